/** Figures of lines as rows of a table, in the order they are read. */

import type { LineFigures } from './figures.ts';

export type FigureKind = 'percent' | 'number';

/** What each figure is called, and whether it is a share. */
export const FIGURE_ROWS: readonly (readonly [
  figure: Exclude<keyof LineFigures, 'notes'>,
  words: string,
  kind: FigureKind,
])[] = [
  ['divergence', 'divergence of the intervals from solos', 'number'],
  ['repeats', 'repeated notes', 'percent'],
  ['stepsUp', 'steps up', 'percent'],
  ['stepsDown', 'steps down', 'percent'],
  ['halfSteps', '… half steps, either way', 'percent'],
  ['wholeSteps', '… whole steps, either way', 'percent'],
  ['thirds', 'thirds', 'percent'],
  ['wideUp', 'wider up', 'percent'],
  ['wideDown', 'wider down', 'percent'],
  ['recovered', 'wider, recovered by step or third', 'percent'],
  ['turns', 'moves that turn', 'percent'],
  ['meanRun', 'moves in a run', 'number'],
  ['runsOfOne', 'runs of one move', 'percent'],
  ['runsOfFiveOrMore', 'runs of five moves and more', 'percent'],
  ['contourBits', 'contour of a bar in bits', 'number'],
  ['repeatedBars', 'bars equal to an earlier one', 'percent'],
  ['barRepeatedNext', 'bars equal to the one before', 'percent'],
  ['cellRepeated', 'half bars repeated', 'percent'],
  ['cellTransposed', 'half bars repeated at another height', 'percent'],
  ['rangeOf16', 'range of 16 notes in semitones', 'number'],
  ['chordTonesOnOddBeats', 'chord tones on beats 1 and 3', 'percent'],
  ['chordTonesOnEvenBeats', 'chord tones on beats 2 and 4', 'percent'],
  ['chordTonesOffBeats', 'chord tones off the beats', 'percent'],
  ['outside', 'notes outside the palette', 'percent'],
  ['enclosures', 'beats with an enclosed chord tone', 'percent'],
  ['arriveByHalfStep', 'into a new chord by half step', 'percent'],
  ['arriveByWholeStep', '… by whole step', 'percent'],
  ['arriveByThird', '… by third', 'percent'],
  ['arriveByWide', '… by a wider interval', 'percent'],
  ['arriveOnChordTone', 'first note of a chord: chord tone', 'percent'],
  ['arriveOnGuideTone', '… third or seventh', 'percent'],
];
