/** Everything that can be wrong with chart text. Sentences are in `sentences.ts`. */

import type { TextPlace, TextProblem } from '../problem.ts';

export const CHART_PROBLEM_CODES = [
  // the text as a whole
  'notText',
  'tooLong',
  'tooManyBars',
  'tooManyProblems',
  'noBars',
  // headers
  'missingTitle',
  'missingKey',
  'missingMeter',
  'emptyHeader',
  'duplicateHeader',
  'headerAfterBars',
  'unknownKey',
  'unknownMeter',
  'unknownTempo',
  'unknownPickup',
  // lines and sections
  'unknownLine',
  'unknownSection',
  'emptySection',
  // bar lines and repeats
  'barNotOpened',
  'barNotClosed',
  'unknownBarLine',
  'nestedRepeat',
  'repeatNotOpened',
  'repeatNotClosed',
  'endingOutsideRepeat',
  'endingOutOfOrder',
  'endingNotClosed',
  // what stands in a bar
  'emptyBar',
  'unknownChord',
  'beatsDoNotFit',
  'holdWithoutChord',
  'sameWithOthers',
  'sameWithoutBar',
  'sameAfterRepeat',
  'sameAcrossMeters',
  'meterInsideBar',
  'meterWithoutBar',
  // palettes
  'unknownPalette',
  'emptyPalette',
  'paletteNotClosed',
  'paletteWithoutChord',
  // plans
  'emptyPlanName',
  'reservedPlanName',
  'duplicatePlan',
  'planLength',
  'planSection',
  'planRepeat',
  'planMeter',
] as const;

export type ChartProblemCode = (typeof CHART_PROBLEM_CODES)[number];

export type ChartProblem = TextProblem<ChartProblemCode>;

/** What was read is shown up to this length. */
const MAX_READ_LENGTH = 60;

/** A suggestion longer than this is no spelling of a word; it cannot be cut, for it is put into the text. */
const MAX_SUGGESTION_LENGTH = 200;

/** A problem at a place; long text that was read is cut, so that it can be shown. */
export function chartProblem(
  code: ChartProblemCode,
  place: TextPlace,
  read: string,
  expected: string,
  suggestion: string | null = null,
): ChartProblem {
  return {
    code,
    line: place.line,
    column: place.column,
    read: shorten(read),
    expected,
    suggestion: (suggestion ?? '').length > MAX_SUGGESTION_LENGTH ? null : suggestion,
  };
}

/** Adds problems to a list. A loop: spreading a hundred thousand of them into one call would overflow the stack. */
export function addProblems(list: ChartProblem[], more: readonly ChartProblem[]): void {
  for (const problem of more) list.push(problem);
}

/** Text of the player's as it is shown within a sentence. */
export function shorten(text: string): string {
  return text.length <= MAX_READ_LENGTH ? text : `${text.slice(0, MAX_READ_LENGTH)}…`;
}
