/**
 * The kinds of chord of MusicXML 4.0 (W3C Music Notation Community Group, 2021, `kind-value` in musicxml.xsd): the
 * degrees each holds, as its documentation says in words, and the quality a lead sheet writes. A degree is its number
 * with its interval on the line of fifths above the root. Kinds of figured harmony, which name no chord of their own on a
 * lead sheet (Neapolitan, Italian, French, German, pedal, Tristan), `other` and `none` are left out.
 */

import { degreeInterval, readDegrees } from '../../theory/degree.ts';

export interface KindDegree {
  readonly degree: number;
  /** Interval above the root on the line of fifths. */
  readonly interval: number;
}

export interface Kind {
  readonly value: string;
  /** What a lead sheet writes after the root. */
  readonly quality: string;
  readonly degrees: readonly KindDegree[];
}

/** Degrees as musicians count them: `b7` is a minor seventh, `7` a major one. */
const ROWS: readonly (readonly [value: string, quality: string, degrees: string])[] = [
  ['major', '', '1 3 5'],
  ['minor', 'm', '1 b3 5'],
  ['augmented', '+', '1 3 #5'],
  ['diminished', 'dim', '1 b3 b5'],
  ['dominant', '7', '1 3 5 b7'],
  ['major-seventh', 'maj7', '1 3 5 7'],
  ['minor-seventh', 'm7', '1 b3 5 b7'],
  ['diminished-seventh', 'dim7', '1 b3 b5 bb7'],
  ['augmented-seventh', '+7', '1 3 #5 b7'],
  ['half-diminished', 'm7b5', '1 b3 b5 b7'],
  ['major-minor', 'mMaj7', '1 b3 5 7'],
  ['major-sixth', '6', '1 3 5 6'],
  ['minor-sixth', 'm6', '1 b3 5 6'],
  ['dominant-ninth', '9', '1 3 5 b7 9'],
  ['major-ninth', 'maj9', '1 3 5 7 9'],
  ['minor-ninth', 'm9', '1 b3 5 b7 9'],
  ['dominant-11th', '11', '1 3 5 b7 9 11'],
  ['major-11th', 'maj11', '1 3 5 7 9 11'],
  ['minor-11th', 'm11', '1 b3 5 b7 9 11'],
  ['dominant-13th', '13', '1 3 5 b7 9 11 13'],
  ['major-13th', 'maj13', '1 3 5 7 9 11 13'],
  ['minor-13th', 'm13', '1 b3 5 b7 9 11 13'],
  ['suspended-second', 'sus2', '1 2 5'],
  ['suspended-fourth', 'sus4', '1 4 5'],
  ['power', '5', '1 5'],
];

export const KINDS: readonly Kind[] = ROWS.map(([value, quality, row]) => ({
  value,
  quality,
  degrees: readDegrees(row).map((one) => ({ degree: one.degree, interval: degreeInterval(one) })),
}));
