/** What a player asks of an example line, and what of it cannot be asked. */

import type { GradeSettings } from '../grading/index.ts';
import { type CompleteSettings, completeSettings } from '../grading/settings.ts';
import type { TakeTempo } from '../take/model.ts';
import type { Level, SlotsPerBeat } from '../words.ts';
import type { WishField, WishProblem } from './problems.ts';

/** The keys a line may use, both ends included. */
export interface Register {
  /** Whole MIDI numbers, 0–127; lowest at most highest. */
  readonly lowestMidi: number;
  readonly highestMidi: number;
}

/** Two octaves from middle C: where a right hand plays most. Common practice, no source. */
export const RIGHT_HAND_REGISTER: Register = { lowestMidi: 60, highestMidi: 84 };

/** The grader's adjustable rules; what is not given is as the level has it. */
export type LineRules = Pick<GradeSettings, 'approach' | 'repeats' | 'lineUp' | 'anticipation'>;

/** `teaching`: lands on a third or seventh at each change, chord tones on beats. `solo`: as improvised lines go. */
export const LINE_STYLES = ['teaching', 'solo'] as const;
export type LineStyle = (typeof LINE_STYLES)[number];

export interface LineWish {
  readonly level: Level;
  readonly style: LineStyle;
  /** Whole, from 1. */
  readonly choruses: number;
  /** Null: eighth notes in every meter. */
  readonly slotsPerBeat: SlotsPerBeat | null;
  /** Long : short, from 1 (straight); only where a beat has two slots. */
  readonly swing: number;
  readonly register: Register;
  /** Whole; the same wish with the same seed gives the same line. */
  readonly seed: number;
  /** From 0, plain scales, to 1, wide shapes; its named points stand in `shapes.ts`. */
  readonly density: number;
  /** From −1, mostly down, over 0, either way, to 1, mostly up. */
  readonly direction: number;
  /** The key the line begins on, or null. */
  readonly startMidi: number | null;
  /** The key that sounded just before, for a line that goes on from a player's: the first interval is judged too. */
  readonly afterMidi?: number | null;
  readonly rules?: LineRules;
}

/**
 * Most notes a line may have. Far beyond any example that is listened to (sixteen choruses of 32 bars in eighths),
 * and a bound on the memory of the search. No source.
 */
export const MAX_LINE_NOTES = 4096;

/** The grader's settings under which a line of this wish is to be judged. */
export function settingsOfWish(wish: LineWish, tempo: TakeTempo): CompleteSettings {
  const { level, choruses, slotsPerBeat, swing, rules } = wish;
  return completeSettings({ ...rules, level, choruses, slotsPerBeat, swing, tempo });
}

/** Everything about a wish that cannot be met whatever the chart; empty when there is nothing. */
export function checkWish(wish: LineWish): readonly WishProblem[] {
  const { register, startMidi, afterMidi } = wish;
  const isRange =
    isKey(register.lowestMidi) &&
    isKey(register.highestMidi) &&
    register.lowestMidi <= register.highestMidi;
  const isStart =
    startMidi === null ||
    (Number.isInteger(startMidi) &&
      startMidi >= register.lowestMidi &&
      startMidi <= register.highestMidi);
  const checks: readonly (readonly [WishField, boolean, string])[] = [
    ['choruses', Number.isInteger(wish.choruses) && wish.choruses >= 1, String(wish.choruses)],
    ['swing', Number.isFinite(wish.swing) && wish.swing >= 1, String(wish.swing)],
    ['register', isRange, `${register.lowestMidi} to ${register.highestMidi}`],
    ['seed', Number.isSafeInteger(wish.seed), String(wish.seed)],
    ['direction', wish.direction >= -1 && wish.direction <= 1, String(wish.direction)],
    ['density', wish.density >= 0 && wish.density <= 1, String(wish.density)],
    ['startMidi', !isRange || isStart, String(startMidi)],
    ['afterMidi', (afterMidi ?? null) === null || isKey(afterMidi ?? 0), String(afterMidi)],
  ];
  return checks.flatMap(([field, holds, read]) =>
    holds ? [] : [{ code: 'wish' as const, field, read }],
  );
}

function isKey(midi: number): boolean {
  return Number.isInteger(midi) && midi >= 0 && midi <= 127;
}
