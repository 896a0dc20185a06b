/**
 * What improvised eighth-note lines are made of, in the words of `figures.ts`. Source: 456 annotated solos of the Weimar Jazz
 * Database (M. Pfleiderer and others, "Inside the Jazzomat", Schott Campus 2017; open data, ODbL; package jazzodata, file
 * `wjd_transforms.rda`): 1,605 runs of eight and
 * more consecutive eighths, 19,494 notes, chords as annotated. Shares from 0 to 1.
 */

import type { LineFigures } from './figures.ts';

/** Null: not counted there. */
export const SOLO_FIGURES: { readonly [Key in keyof LineFigures]: number | null } = {
  notes: 19_494,
  // One soloist against all the others: median 0.024, largest 0.070 (22 soloists of over 300 notes).
  divergence: 0.024,
  repeats: 0.015,
  stepsUp: 0.275,
  stepsDown: 0.338,
  halfSteps: 0.309,
  wholeSteps: 0.304,
  thirds: 0.276,
  wideUp: 0.05,
  wideDown: 0.045,
  recovered: null,
  turns: 0.334,
  meanRun: 2.36,
  runsOfOne: 0.467,
  runsOfFiveOrMore: 0.121,
  // 175 different in 1,035 bars.
  contourBits: 6.5,
  repeatedBars: null,
  barRepeatedNext: 0.005,
  cellRepeated: 0.005,
  cellTransposed: 0.036,
  rangeOf16: 13.5,
  chordTonesOnOddBeats: 0.556,
  chordTonesOnEvenBeats: 0.529,
  chordTonesOffBeats: 0.457,
  // Of a seven-note palette chosen as the program does, approaches included.
  outside: 0.22,
  enclosures: 0.064,
  arriveByHalfStep: 0.46,
  arriveByWholeStep: 0.24,
  arriveByThird: 0.19,
  arriveByWide: 0.11,
  arriveOnChordTone: 0.567,
  arriveOnGuideTone: 0.252,
};
