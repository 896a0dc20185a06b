/** Rules that keep a chord and give some of its beats to others that lead on. Distances are on the line of fifths. */

import { type ChordSymbol, dominantLeadsToMinor, semitonesUp } from '../theory/index.ts';
import {
  allOf,
  chordOn,
  FOURTH_UP,
  isBluesTonic,
  isDominant,
  isMinorQuality,
  isSecondOf,
  type PlanRule,
  type Replacement,
  type Root,
  shortened,
} from './plan-rule.ts';
import type { Spot } from './rule-spots.ts';
import { isSameChord } from './same-chord.ts';
import type { WhyLeft } from './why-left.ts';

/** Levine, "The Jazz Theory Book" (1995), has these under reharmonisation; from memory. */
const SOURCE = 'Levine, The Jazz Theory Book (1995), reharmonisation; from memory';

const FIFTH_UP = 1;
const SEMITONE_UP = -5;
const LEADING_TONE = 5;
const SEMITONE_DOWN = 11;

/** The chord that follows at once, where nothing leads to it yet; else why not. */
function unprepared({ symbol, next, isLast }: Spot): ChordSymbol | WhyLeft | null {
  if (next === null) return 'varies';
  if (!isLast) return null;
  const up = semitonesUp(symbol.root, next.root);
  if (isDominant(symbol) && (up === FOURTH_UP || up === SEMITONE_DOWN)) return 'leadsThere';
  return up === 0 ? null : next;
}

/**
 * The same where it may have a dominant of its own: a diminished chord cannot be a tonic, even for a moment. Kostka and
 * Payne, Tonal Harmony, secondary functions; from memory. The half-diminished ii of a minor key may: common practice.
 */
function momentaryTonic(spot: Spot): ChordSymbol | WhyLeft | null {
  const next = unprepared(spot);
  if (next === null || typeof next === 'string') return next;
  return next.family === 'diminished' ? 'noTonic' : next;
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

function minorTwo(spot: Spot): Replacement | WhyLeft | null {
  const { symbol, key, written, previous, next, isFirst } = spot;
  if (!isDominant(symbol)) return null;
  if (next === null) return 'varies';
  if (!isFirst) return null;
  // Different chords in different playings: one of them may be its ii.
  if (previous === null || isSecondOf(previous, symbol)) return 'hasSecond';
  if (isBluesTonic(spot)) return 'bluesTonic';
  if (written.beats < 2) return 'noRoom';
  const toMinor = dominantLeadsToMinor({ symbol, key, before: [previous], after: [next] });
  const half = firstHalf(written.beats);
  return allOf(
    secondOf(spot, { from: symbol.root, by: 0 }, toMinor, half),
    shortened(spot, written.beats - half),
  );
}

function twoFive(spot: Spot): Replacement | WhyLeft | null {
  const to = momentaryTonic(spot);
  if (to === null || typeof to === 'string') return to;
  const { beats } = spot.written;
  if (beats < 3) return 'noRoom';
  const five = dominantOf(spot, to, 1);
  if (five === null || five.symbol === null) return null;
  const { key } = spot;
  // The V of a minor key has a ii–V of minor too, for its palette is that of minor.
  const toMinor = dominantLeadsToMinor({ symbol: five.symbol, key, before: [], after: [to] });
  const two = secondOf(spot, { from: to.root, by: FIFTH_UP }, toMinor, 1);
  // The chord is that ii: it need not be struck again.
  const isSecond = two !== null && isSameChord(two.symbol, spot.symbol);
  if (isSecond) return allOf(shortened(spot, beats - 1), five);
  return allOf(shortened(spot, beats - 2), two, five);
}

/** The chords of a chromatic approach take the last beats before a chord, one each. */
function chromatic(
  approach: (key: Spot['key'], to: ChordSymbol) => readonly (Replacement[number] | null)[],
): PlanRule['replace'] {
  return (spot) => {
    const to = unprepared(spot);
    if (to === null || typeof to === 'string') return to;
    const chords = approach(spot.key, to);
    const left = spot.written.beats - chords.length;
    return left < 1 ? 'noRoom' : allOf(shortened(spot, left), ...chords);
  };
}

/** The dominant a semitone above a chord, as its tritone substitute. */
function fromAbove(key: Spot['key'], to: ChordSymbol) {
  return chordOn(key, { from: to.root, by: SEMITONE_UP }, '7', 1, 'lydian dominant');
}

/** The diminished chord on the leading tone of a chord. */
function fromBelow(key: Spot['key'], to: ChordSymbol) {
  return chordOn(key, { from: to.root, by: LEADING_TONE }, 'dim7', 1);
}

export const APPROACH_RULES: readonly PlanRule[] = [
  {
    id: 'minor-two',
    name: 'Minor ii before the dominant',
    says: 'The first half of a dominant becomes the ii that goes before it: minor seventh towards major, half-diminished towards minor.',
    source: SOURCE,
    replace: minorTwo,
  },
  {
    id: 'chromatic-approach',
    name: 'Chromatic approach from above',
    says: 'The last beat before a chord becomes the dominant a semitone above it.',
    source: SOURCE,
    replace: chromatic((key, to) => [fromAbove(key, to)]),
  },
  {
    id: 'chromatic-approach-below',
    name: 'Chromatic approach from below',
    says: 'The last beat before a chord becomes the diminished seventh chord a semitone below it.',
    source: 'common practice, no source',
    replace: chromatic((key, to) => [fromBelow(key, to)]),
  },
  {
    id: 'chromatic-approach-both',
    name: 'Chromatic approach from above and below',
    says: 'The last two beats before a chord become the dominant a semitone above it and the diminished seventh chord a semitone below it.',
    source: 'common practice, no source',
    replace: chromatic((key, to) => [fromAbove(key, to), fromBelow(key, to)]),
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
      if (to === null || typeof to === 'string') return to;
      const { beats } = spot.written;
      if (beats < 2) return 'noRoom';
      const half = firstHalf(beats);
      return allOf(shortened(spot, half), dominantOf(spot, to, beats - half));
    },
  },
];
