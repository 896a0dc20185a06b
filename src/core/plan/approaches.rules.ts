/** Rules that keep a chord and give some of its beats to others that lead on. Distances are on the line of fifths. */

import { type ChordSymbol, semitonesUp } from '../theory/index.ts';
import {
  allOf,
  chordOn,
  FOURTH_UP,
  isDominant,
  isMinorQuality,
  type PlanRule,
  type Replacement,
  type Root,
  resolution,
  shortened,
} from './plan-rule.ts';
import type { Spot } from './rule-spots.ts';
import { isSameChord } from './same-chord.ts';

/** Levine, "The Jazz Theory Book" (1995), has these under reharmonisation; from memory. */
const SOURCE = 'Levine, The Jazz Theory Book (1995), reharmonisation; from memory';

const FIFTH_UP = 1;
const SEMITONE_UP = -5;
const SEMITONE_DOWN = 11;

/** The chord that follows at once, where nothing leads to it yet; else null. */
function unprepared({ symbol, next, isLast }: Spot): ChordSymbol | null {
  if (next === null || !isLast) return null;
  const up = semitonesUp(symbol.root, next.root);
  const leads = isDominant(symbol) && (up === FOURTH_UP || up === SEMITONE_DOWN);
  return leads || up === 0 ? null : next;
}

/**
 * The same where it may have a dominant of its own: a diminished chord cannot be a tonic, even for a moment. Kostka and
 * Payne, Tonal Harmony, secondary functions; from memory. The half-diminished ii of a minor key may: common practice.
 */
function momentaryTonic(spot: Spot): ChordSymbol | null {
  const next = unprepared(spot);
  return next?.family === 'diminished' ? null : next;
}

/** The ii that goes before a dominant: half-diminished where that leads to minor. */
function secondOf({ key }: Spot, dominant: Root, toMinor: boolean, beats: number) {
  const root = { ...dominant, by: dominant.by + FIFTH_UP };
  return chordOn(key, root, toMinor ? 'm7b5' : 'm7', beats);
}

/** The dominant of a chord, with a flat ninth where that is minor. */
function dominantOf({ key }: Spot, to: ChordSymbol, beats: number) {
  const root = { from: to.root, by: FIFTH_UP };
  return chordOn(key, root, isMinorQuality(to) ? '7b9' : '7', beats);
}

/** Two chords share beats as two in a bar do: the first takes the odd one. */
function firstHalf(beats: number): number {
  return Math.ceil(beats / 2);
}

/** Whether a dominant's ii may stand before it already: it does, or different chords do in different playings. */
function mayHaveSecond({ symbol, previous }: Spot): boolean {
  if (previous === null) return true;
  return isMinorQuality(previous) && semitonesUp(previous.root, symbol.root) === FOURTH_UP;
}

function twoFive(spot: Spot): Replacement | null {
  const to = momentaryTonic(spot);
  const { beats } = spot.written;
  if (to === null || beats < 3) return null;
  const two = secondOf(spot, { from: to.root, by: FIFTH_UP }, isMinorQuality(to), 1);
  const five = dominantOf(spot, to, 1);
  // The chord is that ii: it need not be struck again.
  const isSecond = two !== null && isSameChord(two.symbol, spot.symbol);
  if (isSecond) return allOf(shortened(spot, beats - 1), five);
  return allOf(shortened(spot, beats - 2), two, five);
}

export const APPROACH_RULES: readonly PlanRule[] = [
  {
    id: 'minor-two',
    name: 'Minor ii before the dominant',
    says: 'The first half of a dominant becomes the ii that goes before it: minor seventh towards major, half-diminished towards minor.',
    source: SOURCE,
    replace(spot) {
      const { symbol, written, next, isFirst } = spot;
      if (!isDominant(symbol) || next === null || !isFirst || mayHaveSecond(spot)) return null;
      if (written.beats < 2) return null;
      const to = resolution(spot);
      const half = firstHalf(written.beats);
      return allOf(
        secondOf(spot, { from: symbol.root, by: 0 }, to !== null && isMinorQuality(to), half),
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
      const to = unprepared(spot);
      const { beats } = spot.written;
      if (to === null || beats < 2) return null;
      return allOf(
        shortened(spot, beats - 1),
        chordOn(spot.key, { from: to.root, by: SEMITONE_UP }, '7', 1, 'lydian dominant'),
      );
    },
  },
  {
    id: 'two-five',
    name: 'ii–V before a chord',
    says: 'The last two beats before a chord become the ii and V that lead to it, of minor where it is minor.',
    source: SOURCE,
    replace: twoFive,
  },
  {
    id: 'secondary-dominant',
    name: 'Secondary dominant',
    says: 'The second half of a chord becomes the dominant of the chord that follows.',
    source: SOURCE,
    replace(spot) {
      const to = momentaryTonic(spot);
      const { beats } = spot.written;
      if (to === null || beats < 2) return null;
      const half = firstHalf(beats);
      return allOf(shortened(spot, half), dominantOf(spot, to, beats - half));
    },
  },
];
