/** Rules that name another palette for a chord, and change the chord only where it could not have that palette. */

import { type ChordSymbol, formatTone, semitonesUp, tonePc } from '../theory/index.ts';
import {
  FOURTH_UP,
  hasTone,
  isDominant,
  isMinorQuality,
  type PlanRule,
  recoloured,
  resolution,
  substituted,
} from './plan-rule.ts';
import type { Spot } from './rule-spots.ts';

const SOURCE = 'common practice, no source';

const FLAT_NINTH = -5;
const MINOR_SEVENTH = -2;

function isTonic({ key, symbol }: Spot): boolean {
  return semitonesUp(key.tonic, symbol.root) === 0;
}

/** A major chord that rests: a triad played with a minor seventh is a dominant without its seventh. */
function isRestingMajor({ symbol, palette }: Spot): boolean {
  const minorSeventh = tonePc(symbol.root + MINOR_SEVENTH);
  return symbol.family === 'major' && !palette?.pcs.includes(minorSeventh);
}

/** A minor seventh chord that goes on to the dominant a fourth up is its ii, whatever the key. */
function isSecond({ symbol, next }: Spot): boolean {
  if (next === null || semitonesUp(symbol.root, next.root) !== FOURTH_UP) return false;
  return isDominant(next) || next.family === 'suspended';
}

/** Melodic minor has no minor seventh: a tonic that has one becomes the sixth chord, over the same bass. */
function melodicTonic(spot: Spot): ReturnType<PlanRule['replace']> {
  const { symbol } = spot;
  if (!hasTone(symbol, MINOR_SEVENTH)) return recoloured(spot, 'melodic minor');
  if (isSecond(spot)) return 'isSecond';
  return substituted(spot, { from: symbol.root, by: 0 }, `m6${slashOf(symbol)}`, 'melodic minor');
}

function slashOf({ bass }: ChordSymbol): string {
  return bass === null ? '' : `/${formatTone(bass)}`;
}

export const COLOUR_RULES: readonly PlanRule[] = [
  {
    id: 'lydian-for-major',
    name: 'Lydian for major',
    says: 'A major chord that is not the tonic is played in lydian: the fourth is raised.',
    source: SOURCE,
    replace(spot) {
      if (!isRestingMajor(spot)) return null;
      return isTonic(spot) ? 'isTonic' : recoloured(spot, 'lydian');
    },
  },
  {
    id: 'lydian-for-tonic',
    name: 'Lydian for the major tonic',
    says: 'The major tonic too is played in lydian: the key floats.',
    source: SOURCE,
    replace: (spot) => (isRestingMajor(spot) && isTonic(spot) ? recoloured(spot, 'lydian') : null),
  },
  {
    id: 'melodic-minor-for-tonic',
    name: 'Melodic minor for tonic minor',
    says: 'The minor tonic is played in melodic minor, sixth and seventh raised; a tonic minor seventh becomes a sixth chord.',
    source: SOURCE,
    replace(spot) {
      const { symbol, key } = spot;
      const isMinorTonic = key.mode === 'minor' && symbol.family === 'minor' && isTonic(spot);
      return isMinorTonic ? melodicTonic(spot) : null;
    },
  },
  {
    id: 'altered-into-minor',
    name: 'Altered for dominants into minor',
    says: 'A dominant that resolves to a minor chord is played altered: both ninths and both fifths are bent.',
    source: SOURCE,
    replace(spot) {
      const to = resolution(spot);
      if (to === null || typeof to === 'string') return to;
      return isMinorQuality(to) ? recoloured(spot, 'altered') : 'notToMinor';
    },
  },
  {
    id: 'diminished-for-flat-nine',
    name: 'Diminished for a flat nine',
    says: 'A dominant with a flat nine is played in the half–whole diminished scale.',
    source: SOURCE,
    replace: (spot) =>
      isDominant(spot.symbol) && hasTone(spot.symbol, FLAT_NINTH)
        ? recoloured(spot, 'half-whole diminished')
        : null,
  },
];
