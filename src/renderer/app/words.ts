/** Words the screens share, in the sense of the grading rules. */

import type { Level } from '../../core/words.ts';

/** What each level opens, in one line. */
export const LEVEL_WORDS: Readonly<Record<Level, string>> = {
  steps: 'steps: one palette step, or up to two semitones',
  thirds: 'thirds: up to two palette steps, or four semitones',
  leaps: 'leaps: any interval, every eighth filled',
  free: 'free: any interval, any rhythm',
};

/** The caution that stands where practice length is set. */
export const CAUTION =
  'Slow repetition can still hurt. Take a break every twenty minutes, stop when anything hurts, and see a medical professional if it does not go away.';

/** The keys a chart can be moved to, in the order of the keyboard; that of six sharps or flats under both its names. */
const MAJOR_KEYS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
const MINOR_KEYS = [
  'Cm',
  'C#m',
  'Dm',
  'D#m',
  'Ebm',
  'Em',
  'Fm',
  'F#m',
  'Gm',
  'G#m',
  'Am',
  'Bbm',
  'Bm',
];

/** The keys a chart in this one can be moved to, this one among them. */
export function keysLike(key: string): readonly string[] {
  const keys = key.endsWith('m') ? MINOR_KEYS : MAJOR_KEYS;
  return keys.includes(key) ? keys : [key, ...keys];
}
