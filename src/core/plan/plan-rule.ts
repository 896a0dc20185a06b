/** What a rule is: a sentence, and what it puts in a chord's place. */

import type { GivenPalette, WrittenChord } from '../chart/index.ts';
import {
  type ChordSymbol,
  chordPcs,
  formatTone,
  type Interval,
  type Key,
  keyFifths,
  paletteMask,
  parseChordSymbol,
  parsePaletteText,
  pcMask,
  plainShift,
  semitonesUp,
  simplifyTone,
  type Tone,
  tonePc,
  transposeChordSymbol,
} from '../theory/index.ts';
import type { Spot } from './rule-spots.ts';
import { isSamePalette } from './same-palette.ts';
import type { WhyLeft } from './why-left.ts';

/** What stands in a chord's place afterwards; its beats add up to those of the chord. */
export type Replacement = readonly Pick<WrittenChord, 'beats' | 'symbol' | 'given'>[];

export interface PlanRule {
  readonly id: string;
  readonly name: string;
  /** One sentence a player can read: what it does, and where. */
  readonly says: string;
  /** Where it comes from; for rules of the trade, "common practice, no source". */
  readonly source: string;
  /** What it puts in this chord's place; why it leaves a chord of its kind alone; or null, for chords it is not about. */
  replace(spot: Spot): Replacement | WhyLeft | null;
  /** Its chord leads by semitone into the next one, which has to stay as it is for that. */
  readonly needsNext?: boolean;
}

/** A dominant seventh that wants to resolve; a suspended one is another family. */
export function isDominant({ family }: ChordSymbol): boolean {
  return family === 'dominant';
}

/** The chord the spot's dominant resolves to, a fourth up; why it does not; null when it is no dominant. */
export function resolution(spot: Spot): ChordSymbol | WhyLeft | null {
  const { symbol, next } = spot;
  if (!isDominant(symbol)) return null;
  if (next === null) return 'varies';
  if (semitonesUp(symbol.root, next.root) !== FOURTH_UP) return 'goesElsewhere';
  return isBluesTonic(spot) ? 'bluesTonic' : next;
}

/**
 * A major key's I as a dominant seventh: at home until its IV follows at once, or where it has its own ii before it. Common
 * practice, no source.
 */
export function isBluesTonic({ key, symbol, previous, next, isLast }: Spot): boolean {
  if (key.mode !== 'major' || !isDominant(symbol) || semitonesUp(key.tonic, symbol.root) !== 0) {
    return false;
  }
  const goesToFour = isLast && next !== null && semitonesUp(symbol.root, next.root) === FOURTH_UP;
  return !goesToFour && !isSecondOf(previous, symbol);
}

/** Whether the one chord is the ii of the other, minor or half-diminished. */
export function isSecondOf(two: ChordSymbol | null, five: ChordSymbol): boolean {
  return two !== null && isMinorQuality(two) && semitonesUp(two.root, five.root) === FOURTH_UP;
}

export const FOURTH_UP = 5;

export function isMinorQuality({ family }: ChordSymbol): boolean {
  return family === 'minor' || family === 'halfDiminished' || family === 'diminished';
}

/** Whether the chord has the tone of an interval above its root. */
export function hasTone({ tones }: ChordSymbol, interval: Interval): boolean {
  return tones.some((tone) => tone.interval === interval);
}

/** Where a new chord stands: an interval away from a chord the chart writes. */
export interface Root {
  readonly from: Tone;
  readonly by: Interval;
}

/** A chord named as a reader of the key expects it, with the palette of that name; null if there is no such chord. */
export function chordOn(
  key: Key,
  root: Root,
  quality: string,
  beats: number,
  palette: string | null = null,
): Replacement[number] | null {
  const read = parseChordSymbol(formatTone(rootIn(key, root)) + quality);
  if (!read.ok) return null;
  const symbol = transposeChordSymbol(read.value, plainShift(read.value, key));
  const given = palette === null ? null : givenFor(symbol, palette);
  return { beats, symbol, given };
}

/**
 * The chord given up for another on the same beats. Left alone where the chart names a palette for it: that choice is the
 * writer's, and a rule does not throw it away. Left too where the new palette lacks the new chord's bass.
 */
export function substituted(
  { key, written }: Spot,
  root: Root,
  quality: string,
  palette: string,
): Replacement | WhyLeft | null {
  if (written.given !== null) return 'named';
  const chord = chordOn(key, root, quality, written.beats, palette);
  if (chord === null) return null;
  return missingPcs(chord) === 0 ? [chord] : 'notHeld';
}

/** The pitch classes of a chord and its bass that its palette lacks, as a bit set. */
function missingPcs({ symbol, given }: Replacement[number]): number {
  if (symbol === null || given === null) return 0;
  const bass = symbol.bass === null ? [] : [tonePc(symbol.bass)];
  return pcMask([...chordPcs(symbol), ...bass]) & ~paletteMask(given.palette);
}

/**
 * The chord as it is with a palette named for it. Left alone where the chart names one already, where the scale does not
 * hold the chord's tones and its bass, and where it is the palette in force anyway: nothing would be heard to change.
 */
export function recoloured(
  { written, symbol, palette }: Spot,
  name: string,
): Replacement | WhyLeft | null {
  const given = givenFor(symbol, name);
  if (given === null) return null;
  if (written.given !== null) return 'named';
  if (palette !== null && isSamePalette(palette, given.palette)) return 'playedSo';
  const chord = { beats: written.beats, symbol, given };
  // A perfect fifth may be left out for a scale without one, such as altered. Common practice, no source.
  const fifth = 1 << tonePc(symbol.root + 1);
  return (missingPcs(chord) & ~fifth) === 0 ? [chord] : 'notHeld';
}

/**
 * Which names of roots a key's readers expect, on the line of fifths: Cb and Fb, E# and B# only where the signature has
 * them; in flat keys no sharps, so Gb and never F#, unless the chord it goes with is written with a sharp itself.
 * Common practice, no source.
 */
const MANY_SIGNS = 5;
const LOWEST_PLAIN = -6;
const HIGHEST_PLAIN = 10;
const HIGHEST_NATURAL = 5;

function rootIn(key: Key, { from, by }: Root): Tone {
  const tone = simplifyTone(from + by);
  const fifths = keyFifths(key);
  const isFlat = fifths < 0 && from <= HIGHEST_NATURAL;
  if (tone < LOWEST_PLAIN && fifths >= -MANY_SIGNS) return tone + 12;
  if (tone > (isFlat ? HIGHEST_NATURAL : HIGHEST_PLAIN) && fifths <= MANY_SIGNS) return tone - 12;
  return tone;
}

function givenFor(symbol: ChordSymbol, text: string): GivenPalette | null {
  const read = parsePaletteText(text, symbol.root);
  return read.ok ? { text, palette: read.value } : null;
}

/** A replacement whose every chord could be written, else null. */
export function allOf(...chords: readonly (Replacement[number] | null)[]): Replacement | null {
  const written = chords.filter((chord) => chord !== null);
  return written.length === chords.length ? written : null;
}

/** The chord for its first beats only; its palette stays. */
export function shortened({ written, symbol }: Spot, beats: number): Replacement[number] {
  return { beats, symbol, given: written.given };
}
