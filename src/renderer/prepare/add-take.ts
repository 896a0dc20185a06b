/** A take from elsewhere into the library, with its figures. */

import type { Bridge, Reply, TakeSetUp } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/index.ts';
import { gradeTake } from '../../core/grading/index.ts';
import type { TakeEvents } from '../../core/take/model.ts';
import { figuresOf } from '../session/live-take.ts';

export interface AddedTake extends TakeEvents {
  readonly setUp: TakeSetUp;
  /** ms since 1970; without it, now. */
  readonly startedAtMs?: number;
}

export async function addTake(
  bridge: Bridge,
  form: Form,
  { setUp, events, endMs, startedAtMs }: AddedTake,
): Promise<Reply<'takes.add'>> {
  const figures = figuresOf(gradeTake(form, { events, endMs }, setUp.grade), form);
  return bridge.ask('takes.add', {
    setUp,
    events,
    endMs,
    figures,
    startedAtMs: startedAtMs ?? null,
  });
}
