/** An example chorus to listen to before answering it: a line for the form under the take's own rules, with click and band. */

import type { TakeSetUp } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/index.ts';
import { createBeatClock } from '../../core/grid/index.ts';
import type { LineProblem, LineWish, WrittenLine } from '../../core/line/index.ts';
import type { Outcome } from '../../core/problem.ts';
import { success } from '../../core/problem.ts';
import { lineScore, mergeScores, type SoundEvent } from '../audio/index.ts';
import type { SoundSettings } from '../settings/player-settings.ts';
import { accompaniment } from './accompaniment.ts';
import { continuedLine } from './continued-line.ts';

/** How the line is to be. */
export interface ExampleWish extends Pick<LineWish, 'register' | 'density' | 'seed'> {
  /** The player's last key, to go on from where that can be; null: begins freely. */
  readonly lastMidi: number | null;
}

export interface ExampleChorus {
  /** Count-in included. */
  readonly score: Iterator<SoundEvent>;
  readonly line: WrittenLine;
}

/** One example chorus, to be heard; another seed gives another line. */
export function exampleChorus(
  form: Form,
  grade: TakeSetUp['grade'],
  sound: SoundSettings,
  { lastMidi, ...wish }: ExampleWish,
): Outcome<ExampleChorus, LineProblem> {
  const { level, slotsPerBeat, swing, tempo, approach, repeats, lineUp, anticipation } = grade;
  const rules = { approach, repeats, lineUp, anticipation };
  const asTaken = { level, slotsPerBeat, swing, rules, choruses: 1, startMidi: null };
  const line = continuedLine(form, { ...asTaken, ...wish }, lastMidi);
  if (!line.ok) return line;
  const clock = createBeatClock(form, tempo);
  const band = accompaniment(form, { tempo, choruses: 1, swing }, sound);
  const score = mergeScores(lineScore(line.value, clock).values(), band);
  return success({ score, line: line.value });
}
