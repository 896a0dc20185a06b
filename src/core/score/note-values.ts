/** Lengths as note values: which value a share of a beat is written with, and in which tuplet. Common practice, no source. */

import { isCompound, type Meter } from '../chart/index.ts';

export type NoteValue =
  | 'whole'
  | 'dottedHalf'
  | 'half'
  | 'dottedQuarter'
  | 'quarter'
  | 'dottedEighth'
  | 'eighth'
  | 'sixteenth'
  | 'thirtySecond'
  | 'sixtyFourth';

/** So many notes in the time of so many. */
export interface TupletRatio {
  readonly played: number;
  readonly inTimeOf: number;
}

/** A beat divided evenly, as it is written: its parts are so many thirty-seconds long, in a tuplet or not. */
export interface BeatGrid {
  readonly parts: number;
  readonly partThirtySeconds: number;
  readonly tuplet: TupletRatio | null;
}

const plain = (parts: number, partThirtySeconds: number): BeatGrid => ({
  ...{ parts, partThirtySeconds, tuplet: null },
});
const tuplet = (parts: number, partThirtySeconds: number, inTimeOf: number): BeatGrid => ({
  ...{ parts, partThirtySeconds, tuplet: { played: parts, inTimeOf } },
});

/** Divisions of a beat that is a quarter, the plainest to read first. */
const SIMPLE: readonly BeatGrid[] = [
  plain(1, 8),
  plain(2, 4),
  plain(4, 2),
  tuplet(3, 4, 2),
  tuplet(6, 2, 4),
  tuplet(12, 1, 8),
];
/** Divisions of a beat that is a half. */
const HALF: readonly BeatGrid[] = [
  plain(1, 16),
  plain(2, 8),
  plain(4, 4),
  tuplet(3, 8, 2),
  tuplet(6, 4, 4),
  tuplet(12, 2, 8),
];
/** Divisions of a beat that is an eighth. */
const EIGHTH: readonly BeatGrid[] = [
  plain(1, 4),
  plain(2, 2),
  plain(4, 1),
  tuplet(3, 2, 2),
  tuplet(6, 1, 4),
  tuplet(12, 0.5, 8),
];
/** Divisions of a beat that is a dotted quarter. */
const COMPOUND: readonly BeatGrid[] = [
  plain(1, 12),
  plain(3, 4),
  plain(6, 2),
  tuplet(2, 4, 3),
  tuplet(4, 4, 3),
  plain(12, 1),
];

/** The ways a beat of a meter is divided, the plainest to read first; the last one divides it into twelfths. */
export function beatGrids(meter: Meter): readonly BeatGrid[] {
  if (isCompound(meter)) return COMPOUND;
  return { 2: HALF, 4: SIMPLE, 8: EIGHTH }[meter.unit];
}

/** Values by their length in thirty-seconds, longest first. */
const VALUES: readonly (readonly [thirtySeconds: number, value: NoteValue])[] = [
  [32, 'whole'],
  [24, 'dottedHalf'],
  [16, 'half'],
  [12, 'dottedQuarter'],
  [8, 'quarter'],
  [6, 'dottedEighth'],
  [4, 'eighth'],
  [2, 'sixteenth'],
  [1, 'thirtySecond'],
  [0.5, 'sixtyFourth'],
];

/** A length as values that are tied together, longest first; most lengths are one value. In: thirty-seconds, in halves. */
export function valuesOf(
  thirtySeconds: number,
): readonly { readonly value: NoteValue; readonly thirtySeconds: number }[] {
  let left = thirtySeconds;
  return VALUES.flatMap(([length, value]) => {
    if (length > left) return [];
    left -= length;
    return [{ value, thirtySeconds: length }];
  });
}
