/** Rules that put another chord in the place of one. Distances are on the line of fifths: a fourth up is −1. */

import {
  allOf,
  chordOn,
  isDominant,
  isMinorQuality,
  type PlanRule,
  resolution,
  semitonesUp,
  shortened,
} from './plan-rule.ts';
import type { Spot } from './rule-spots.ts';

/** Levine, "The Jazz Theory Book" (1995), has these under reharmonisation; from memory. */
const SOURCE = 'Levine, The Jazz Theory Book (1995), reharmonisation; from memory';

const TRITONE = -6;
const FIFTH_UP = 1;
const SEMITONE_UP = -5;
const WHOLE_STEP_DOWN = -2;

/** The two chords that lead to a target: its minor or half-diminished ii, and its dominant. */
function twoFive(spot: Spot, beatsEach: number) {
  const { next } = spot;
  if (next === null) return [null, null] as const;
  const second = isMinorQuality(next) ? 'm7b5' : 'm7';
  const fifth = isMinorQuality(next) ? '7b9' : '7';
  return [
    chordOn(spot.key, next.root + 2 * FIFTH_UP, second, beatsEach),
    chordOn(spot.key, next.root + FIFTH_UP, fifth, beatsEach),
  ] as const;
}

/** Whether the chord is one of the two that lead to the next already. */
function leadsAlready({ symbol, next }: Spot): boolean {
  if (next === null) return true;
  const up = semitonesUp(symbol.root, next.root);
  return (isDominant(symbol) && (up === 5 || up === 11)) || up === 0;
}

export const SUBSTITUTE_RULES: readonly PlanRule[] = [
  {
    id: 'tritone-substitute',
    name: 'Tritone substitute',
    says: 'A dominant that resolves a fourth up gives way to the dominant a tritone away, in lydian dominant: the bass then falls by a semitone.',
    source: SOURCE,
    replace(spot) {
      if (resolution(spot) === null) return null;
      const { symbol, written } = spot;
      return allOf(chordOn(spot.key, symbol.root + TRITONE, '7', written.beats, 'lydian dominant'));
    },
  },
  {
    id: 'minor-two',
    name: 'Minor ii before the dominant',
    says: 'The first half of a dominant becomes the ii that goes before it: minor seventh towards major, half-diminished towards minor.',
    source: SOURCE,
    replace(spot) {
      const { symbol, written, previous, next } = spot;
      const half = Math.floor(written.beats / 2);
      if (!isDominant(symbol) || half === 0) return null;
      // Its ii is there already.
      if (previous !== null && semitonesUp(previous.root, symbol.root) === 5) return null;
      const quality = next !== null && isMinorQuality(next) ? 'm7b5' : 'm7';
      return allOf(
        chordOn(spot.key, symbol.root + FIFTH_UP, quality, half),
        shortened(spot, written.beats - half),
      );
    },
  },
  {
    id: 'chromatic-approach',
    name: 'Chromatic approach chord',
    says: 'The last beat before a chord becomes the dominant a semitone above it.',
    source: SOURCE,
    replace(spot) {
      const { written, next, isLast } = spot;
      if (next === null || !isLast || written.beats < 2 || leadsAlready(spot)) return null;
      return allOf(
        shortened(spot, written.beats - 1),
        chordOn(spot.key, next.root + SEMITONE_UP, '7', 1, 'lydian dominant'),
      );
    },
  },
  {
    id: 'back-door',
    name: 'Back-door dominant',
    says: 'A dominant on its way to the major tonic gives way to the dominant a whole step below that tonic, in lydian dominant.',
    source: SOURCE,
    replace(spot) {
      const to = resolution(spot);
      const { key, written } = spot;
      if (to === null || to.family !== 'major' || semitonesUp(key.tonic, to.root) !== 0)
        return null;
      return allOf(chordOn(key, to.root + WHOLE_STEP_DOWN, '7', written.beats, 'lydian dominant'));
    },
  },
  {
    id: 'two-five',
    name: 'ii–V before a chord',
    says: 'The last two beats before a chord become the ii and V that lead to it, of minor where it is minor.',
    source: SOURCE,
    replace(spot) {
      const { written, isLast } = spot;
      if (!isLast || written.beats < 3 || leadsAlready(spot)) return null;
      return allOf(shortened(spot, written.beats - 2), ...twoFive(spot, 1));
    },
  },
  {
    id: 'secondary-dominant',
    name: 'Secondary dominant',
    says: 'The second half of a chord becomes the dominant of the chord that follows.',
    source: SOURCE,
    replace(spot) {
      const { written, next, isLast } = spot;
      const half = Math.floor(written.beats / 2);
      if (next === null || !isLast || half === 0 || leadsAlready(spot)) return null;
      const [, fifth] = twoFive(spot, half);
      return allOf(shortened(spot, written.beats - half), fifth);
    },
  },
];
