/** Why a line cannot be written, in words: what, where, what to do. Tests assert codes and places. */

import type { BlockedProblem, BlockingRule, LineProblem, WishField } from './problems.ts';

const WISHES: Readonly<Record<WishField, string>> = {
  choruses: 'The number of choruses must be a whole number from 1',
  swing: 'The swing ratio must be at least 1, which is straight',
  register: 'The register must run from one key up to another, between 0 and 127',
  seed: 'The seed must be a whole number',
  density: 'The shape must lie between 0, plain scales, and 1, wide shapes',
  direction: 'The direction must lie between -1, mostly down, and 1, mostly up',
  startMidi: 'The key to begin on must lie in the register',
  afterMidi: 'The key to go on from must lie between 0 and 127',
};

const RULES: Readonly<Record<BlockingRule, (problem: BlockedProblem) => string>> = {
  register: ({ palette }) =>
    `no key of ${palette} lies in the register. Widen the register, or choose another palette.`,
  start: ({ palette }) =>
    `the key to begin on is not in ${palette}. Begin on one of its notes, or leave the beginning open.`,
  beginning: ({ palette }) =>
    `from the key the line begins on or goes on from, no note of ${palette} can follow here at this level. Begin on another key, or leave the beginning open.`,
  repeat: ({ palette }) =>
    `of ${palette} only the key just played is in reach, and repeats are not open. Widen the register, choose a palette of more notes, or allow repeats.`,
  interval: ({ palette }) =>
    `no key of ${palette} is near enough for this level. Widen the register, choose a fuller palette, or go up a level.`,
  direction: ({ palette }) =>
    `${palette} differs rising and falling, and leaves no turn open here. Widen the register, or name a palette of one form.`,
};

/** One or two sentences for a player. */
export function describeLineProblem(problem: LineProblem): string {
  switch (problem.code) {
    case 'wish':
      return `${WISHES[problem.field]}; read ${problem.read}.`;
    case 'noBars':
      return 'There are no bars to write a line over. Choose bars of this form.';
    case 'tooLong':
      return `A line may have ${problem.most} notes; this one would have ${problem.notes}. Choose fewer choruses or fewer bars.`;
    case 'blocked': {
      const { chorus, bar, beat, chord } = problem;
      const place = `Chorus ${chorus}, bar ${bar}, beat ${beat} (${chord})`;
      return `${place}: ${RULES[problem.rule](problem)}`;
    }
  }
}
