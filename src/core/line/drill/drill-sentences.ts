/** Why a drill cannot be written, in words: what, where, what to do. Tests assert codes and places. */

import { describeLineProblem } from '../sentences.ts';
import type { DrillBlockedProblem, DrillProblem, DrillRule } from './drill-problem.ts';
import { drillOf } from './drills.ts';

const RULES: Readonly<Record<DrillRule, (problem: DrillBlockedProblem) => string>> = {
  noChord: () => 'there is no chord in these bars. Choose bars with a chord.',
  register: ({ palette }) =>
    `no key of ${palette} that the drill needs lies in the register. Widen the register.`,
  start: ({ palette }) =>
    `the drill cannot begin on that key over ${palette}. Begin on another of its notes, or leave the beginning open.`,
  oneTone: ({ palette }) =>
    `the register holds only one key of ${palette}. Widen the register, or choose a palette of more notes.`,
  span: ({ palette }) =>
    `the figure over ${palette} does not fit in the register. Widen the register, or choose a fuller palette.`,
  chordTone: ({ chord, palette }) =>
    `no tone of ${chord} is in ${palette} whichever way the line moves. Choose another palette.`,
  guideTone: ({ chord, palette }) =>
    `${chord} has no third or seventh that is in ${palette} whichever way the line moves. Choose another chord or palette.`,
  direction: ({ palette }) =>
    `${palette} differs rising and falling, and leaves no way on here. Widen the register, or name a palette of one form.`,
};

/** One or two sentences for a player. */
export function describeDrillProblem(problem: DrillProblem): string {
  if (problem.code !== 'drill') return describeLineProblem(problem);
  const { chorus, bar, beat, chord, style } = problem;
  const place = `Chorus ${chorus}, bar ${bar}, beat ${beat} (${chord})`;
  return `${drillOf(style).name}, ${place}: ${RULES[problem.rule](problem)}`;
}
