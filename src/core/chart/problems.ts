/** Everything that can be wrong with chart text. Sentences are in `sentences.ts`. */

import type { TextPlace, TextProblem } from '../problem.ts';
import type { TextEdit } from './text-edit.ts';

export const CHART_PROBLEM_CODES = [
  // the text as a whole
  'notText',
  'otherKind',
  'tooLong',
  'tooManyBars',
  'tooManyProblems',
  'noBars',
  // headers
  'missingTitle',
  'misspeltHeader',
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
  // marks of the form
  'markInsideBar',
  'markTwice',
  'markWithoutTarget',
  'markMisplaced',
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
  'planMark',
  'planMeter',
] as const;

export type ChartProblemCode = (typeof CHART_PROBLEM_CODES)[number];

/** A change of the text that removes a problem, though it may uncover another, and how it is named to the player. */
export interface QuickFix extends TextEdit {
  readonly words: string;
}

/** `suggestion` is what the quick fix is named by; where there is one there is the other. */
export interface ChartProblem extends TextProblem<ChartProblemCode> {
  readonly fix: TextEdit | null;
}

/** What was read is shown up to this length. */
const MAX_READ_LENGTH = 60;

/** A suggestion longer than this is no spelling of a word; it cannot be cut, for it is put into the text. */
const MAX_SUGGESTION_LENGTH = 200;

/** A problem at a place; long text that was read is cut, so that it can be shown. */
export function chartProblem(
  code: ChartProblemCode,
  { line, column }: TextPlace,
  read: string,
  expected: string,
  fix: QuickFix | null = null,
): ChartProblem {
  const fitting = fix === null || fix.words.length > MAX_SUGGESTION_LENGTH ? null : fix;
  return {
    ...{ code, line, column, read: shorten(read), expected },
    suggestion: fitting?.words ?? null,
    fix: fitting === null ? null : { from: fitting.from, to: fitting.to, insert: fitting.insert },
  };
}

/** The fix that puts other words in the place of what stands there. */
export function replace(
  { from, text }: { readonly from: number; readonly text: string },
  words: string,
): QuickFix {
  return { from, to: from + text.length, insert: words, words };
}

/** The fix that puts in what is missing at an offset. */
export function insertAt(offset: number, insert: string): QuickFix {
  return { from: offset, to: offset, insert, words: insert.trim() };
}

/** Adds problems to a list. A loop: spreading a hundred thousand of them into one call would overflow the stack. */
export function addProblems(list: ChartProblem[], more: readonly ChartProblem[]): void {
  for (const problem of more) list.push(problem);
}

/** Text of the player's as it is shown within a sentence. */
export function shorten(text: string): string {
  return text.length <= MAX_READ_LENGTH ? text : `${text.slice(0, MAX_READ_LENGTH)}…`;
}
