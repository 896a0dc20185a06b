/** Rules that keep the chords and name another palette for them. */

import {
  isDominant,
  isMinorQuality,
  type PlanRule,
  recoloured,
  resolution,
  semitonesUp,
} from './plan-rule.ts';

/** The chord scales of Levine, "The Jazz Theory Book" (1995), chapter 3; from memory. */
const SOURCE = 'Levine, The Jazz Theory Book (1995), chord/scale theory; from memory';

const FLAT_NINTH = -5;

export const COLOUR_RULES: readonly PlanRule[] = [
  {
    id: 'lydian-for-major',
    name: 'Lydian for major',
    says: 'A major chord is played in lydian: the fourth is raised.',
    source: SOURCE,
    replace: (spot) => (spot.symbol.family === 'major' ? recoloured(spot, 'lydian') : null),
  },
  {
    id: 'melodic-minor-for-tonic',
    name: 'Melodic minor for tonic minor',
    says: 'The minor tonic is played in melodic minor: sixth and seventh are raised.',
    source: SOURCE,
    replace(spot) {
      const { symbol, key } = spot;
      const isTonic = key.mode === 'minor' && semitonesUp(key.tonic, symbol.root) === 0;
      return isTonic && symbol.family === 'minor' ? recoloured(spot, 'melodic minor') : null;
    },
  },
  {
    id: 'altered-into-minor',
    name: 'Altered for dominants into minor',
    says: 'A dominant that resolves to a minor chord is played altered: both ninths and both fifths are bent.',
    source: SOURCE,
    replace(spot) {
      const to = resolution(spot);
      return to !== null && isMinorQuality(to) ? recoloured(spot, 'altered') : null;
    },
  },
  {
    id: 'diminished-for-flat-nine',
    name: 'Diminished for a flat nine',
    says: 'A dominant with a flat nine is played in the half–whole diminished scale.',
    source: SOURCE,
    replace(spot) {
      const { symbol } = spot;
      const hasFlatNine = symbol.tones.some(({ interval }) => interval === FLAT_NINTH);
      return isDominant(symbol) && hasFlatNine ? recoloured(spot, 'half-whole diminished') : null;
    },
  },
];
