/** What a take is graded under, with the defaults of `grading.md`. */

import type { TakeTempo } from '../take/model.ts';
import type { Allowance, Level, SlotsPerBeat } from '../words.ts';

/** Settings as a player or a command gives them; everything but level and tempo has a default. */
export interface GradeSettings {
  readonly level: Level;
  readonly tempo: TakeTempo;
  /** Choruses planned; null means no end was planned. */
  readonly choruses?: number | null;
  /** Null: eighth notes in every meter. */
  readonly slotsPerBeat?: SlotsPerBeat | null;
  /** Long : short, at least 1; 1 is straight. */
  readonly swing?: number;
  /** In the place of the latency of every source; absent: each has its own. */
  readonly latencyMs?: number;
  /** Lowest key of the line on every source; keys below are the left hand, null: no split. Absent: each has its own. */
  readonly splitMidi?: number | null;
  /** Fixed tolerance; null: max(40 ms, 0.15 × beat / slots per beat). */
  readonly toleranceMs?: number | null;
  readonly approach?: Allowance;
  readonly repeats?: Allowance;
  readonly lineUp?: Allowance;
  readonly anticipation?: Allowance;
  /** Judge the left hand's bass notes; needs a split. */
  readonly leftHand?: boolean;
}

/** What is left out here stays left out: the sources of the take say it. */
type OfSources = 'latencyMs' | 'splitMidi';

export type CompleteSettings = Required<Omit<GradeSettings, OfSources>> &
  Pick<GradeSettings, OfSources>;

/**
 * Fills in the defaults of a level. Source: `grading.md`: approaches open above `steps`, repeats open above
 * `thirds`, line-up at `steps`, anticipation at `free`.
 */
export function completeSettings(settings: GradeSettings): CompleteSettings {
  const { level } = settings;
  return {
    choruses: null,
    slotsPerBeat: null,
    swing: 1,
    toleranceMs: null,
    approach: level === 'steps' ? 'flag' : 'allow',
    repeats: level === 'steps' || level === 'thirds' ? 'flag' : 'allow',
    lineUp: level === 'steps' ? 'allow' : 'flag',
    anticipation: level === 'free' ? 'allow' : 'flag',
    leftHand: false,
    ...settings,
  };
}
