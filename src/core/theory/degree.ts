/** Degrees as musicians write them above a root: `1`, `b3`, `#11`, `bb7`. */

import type { Interval } from './tone.ts';

/** A degree and its accidental: `b9` is degree 9, alter −1. Degrees count in the major scale, as chord symbols do. */
export interface Degree {
  readonly degree: number;
  /** In semitones: −1 flat, 1 sharp, 0 as in the major scale. */
  readonly alter: number;
}

/** Line-of-fifths intervals of the major scale's degrees 1 to 7; 8 to 14 repeat them an octave up. */
const MAJOR_SCALE: readonly Interval[] = [0, 2, 4, -1, 1, 3, 5];

/**
 * The interval of a degree above the root. In: degree from 1, alter in semitones. Out: steps on the line of fifths.
 * The major scale on the line of fifths, one accidental seven steps: see `tone.ts`.
 */
export function degreeInterval({ degree, alter }: Degree): Interval {
  return (MAJOR_SCALE[(degree - 1) % 7] ?? 0) + 7 * alter;
}

/**
 * Reads a row of a table such as `1 2 b3 4 5 6 b7`, split at white space. For our own tables only: a word that is
 * no degree is our own slip and throws.
 */
export function readDegrees(row: string): readonly Degree[] {
  return row.split(' ').map((word) => {
    const [, accidental, degree] = /^(bb|b|#|)(\d{1,2})$/.exec(word) ?? [];
    if (accidental === undefined) throw new Error(`not a degree: ${word}`);
    const alter = accidental.startsWith('b') ? -accidental.length : accidental.length;
    return { degree: Number(degree), alter };
  });
}
