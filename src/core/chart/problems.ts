/** Everything that can be wrong with chart text. Sentences are in `sentences.ts`. */

import type { TextProblem } from '../problem.ts';

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
