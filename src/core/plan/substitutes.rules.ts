/** Rules that put one other chord in the place of a dominant. Distances are on the line of fifths. */

import { type PlanRule, resolution, substituted } from './plan-rule.ts';

/** Levine, "The Jazz Theory Book" (1995), has these under reharmonisation; from memory. */
const SOURCE = 'Levine, The Jazz Theory Book (1995), reharmonisation; from memory';

const TRITONE = -6;
const WHOLE_STEP_DOWN = -2;

export const SUBSTITUTE_RULES: readonly PlanRule[] = [
  {
    id: 'tritone-substitute',
    name: 'Tritone substitute',
    says: 'A dominant that resolves a fourth up gives way to the dominant a tritone away, in lydian dominant: the bass then falls by a semitone.',
    source: SOURCE,
    needsNext: true,
    replace(spot) {
      const to = resolution(spot);
      if (to === null || typeof to === 'string') return to;
      return substituted(spot, { from: spot.symbol.root, by: TRITONE }, '7', 'lydian dominant');
    },
  },
  {
    id: 'back-door',
    name: 'Back-door dominant',
    says: 'A dominant on its way to a major chord gives way to the dominant a whole step below that chord, in lydian dominant.',
    source: SOURCE,
    replace(spot) {
      const to = resolution(spot);
      if (to === null || typeof to === 'string') return to;
      if (to.family !== 'major') return 'notToMajor';
      return substituted(spot, { from: to.root, by: WHOLE_STEP_DOWN }, '7', 'lydian dominant');
    },
  },
];
