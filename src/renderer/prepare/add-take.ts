/** A take read from a file into the library, with its figures. */

import type { Bridge, Reply } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/index.ts';
import { gradeTake } from '../../core/grading/index.ts';
import { figuresOf } from '../session/live-take.ts';
import type { FileTake } from './take-from-file.ts';

export async function addTake(
  bridge: Bridge,
  form: Form,
  { setUp, events, endMs }: FileTake,
): Promise<Reply<'takes.add'>> {
  const figures = figuresOf(gradeTake(form, { events, endMs }, setUp.grade));
  return bridge.ask('takes.add', { setUp, events, endMs, figures, startedAtMs: null });
}
