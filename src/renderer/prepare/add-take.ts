/** A take from elsewhere into the library, with its figures. */

import type { Bridge, Reply, TakeSetUp } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/index.ts';
import { gradeTake, isGradable, NOT_GRADABLE } from '../../core/grading/index.ts';
import { inOrderOfTime } from '../../core/take/in-order.ts';
import type { TakeEvents } from '../../core/take/model.ts';
import { figuresOf } from '../session/live-take.ts';

export interface AddedTake extends TakeEvents {
  readonly setUp: TakeSetUp;
  /** ms since 1970; without it, now. */
  readonly startedAtMs?: number;
}

/** Grades a take and adds it; one that would owe more than memory holds is refused here, ungraded. */
export async function addTake(
  bridge: Bridge,
  form: Form,
  { setUp, startedAtMs, ...added }: AddedTake,
): Promise<Reply<'takes.add'>> {
  const { endMs, sources, breaks } = added;
  const take = { events: inOrderOfTime(added.events), endMs, sources, breaks };
  if (!isGradable(form, take, setUp.grade)) {
    return { ok: false, refusal: { code: 'tooLarge', ...NOT_GRADABLE } };
  }
  const figures = figuresOf(gradeTake(form, take, setUp.grade), form);
  return bridge.ask('takes.add', { setUp, ...take, figures, startedAtMs: startedAtMs ?? null });
}
