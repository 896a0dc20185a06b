/** An example chorus to listen to before answering it: a line for the form under the take's own rules, with click and band. */

import type { TakeSetUp } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/index.ts';
import { createBeatClock } from '../../core/grid/index.ts';
import type { LineProblem, LineWish, WrittenLine } from '../../core/line/index.ts';
import type { Outcome } from '../../core/problem.ts';
import { lineScore, mergeScores, type SoundEvent } from '../audio/index.ts';
import type { SoundSettings } from '../settings/player-settings.ts';
import { accompaniment } from './accompaniment.ts';
import { continuedLine } from './continued-line.ts';

/** How the line is to be. */
export interface ExampleWish extends Pick<LineWish, 'register' | 'style' | 'density' | 'seed'> {
  /** The player's last key, to go on from where that can be; null: begins freely. */
  readonly lastMidi: number | null;
}

/** The line of one example chorus; another seed gives another. */
export function exampleLine(
  form: Form,
  grade: TakeSetUp['grade'],
  { lastMidi, ...wish }: ExampleWish,
): Outcome<WrittenLine, LineProblem> {
  const { level, slotsPerBeat, swing, approach, repeats, lineUp, anticipation } = grade;
  const rules = { approach, repeats, lineUp, anticipation };
  const asTaken = { level, slotsPerBeat, swing, rules, choruses: 1, direction: 0, startMidi: null };
  return continuedLine(form, { ...asTaken, ...wish }, lastMidi);
}

/** The line as it is heard, count-in included. */
export function exampleScore(
  form: Form,
  { tempo, swing }: TakeSetUp['grade'],
  sound: SoundSettings,
  line: WrittenLine,
): Iterator<SoundEvent> {
  const clock = createBeatClock(form, tempo);
  const band = accompaniment(form, { tempo, choruses: 1, swing }, sound);
  return mergeScores(lineScore(line, clock).values(), band);
}
