/** What a rule is: a sentence, and what it puts in a chord's place. */

import type { GivenPalette, WrittenChord } from '../chart/index.ts';
import {
  type ChordSymbol,
  chordPcs,
  formatTone,
  type Key,
  keyFifths,
  paletteMask,
  parseChordSymbol,
  parsePaletteText,
  pcMask,
  simplifyTone,
  type Tone,
  tonePc,
} from '../theory/index.ts';
import type { Spot } from './rule-spots.ts';

/** What stands in a chord's place afterwards; its beats add up to those of the chord. */
export type Replacement = readonly Pick<WrittenChord, 'beats' | 'symbol' | 'given'>[];

export interface PlanRule {
  readonly id: string;
  readonly name: string;
  /** One sentence a player can read: what it does, and where. */
  readonly says: string;
  /** Where it comes from; for rules of the trade, "common practice, no source". */
  readonly source: string;
  /** What it puts in this chord's place, or null where it does not apply. */
  replace(spot: Spot): Replacement | null;
}

/** Semitones from one root up to another, 0–11. */
export function semitonesUp(from: Tone, to: Tone): number {
  return (tonePc(to) - tonePc(from) + 12) % 12;
}

/** A dominant seventh that wants to resolve; a suspended one is another family. */
export function isDominant({ family }: ChordSymbol): boolean {
  return family === 'dominant';
}

/** The chord the spot's dominant resolves to, a fourth up; null when it is none or goes elsewhere. */
export function resolution({ symbol, next }: Spot): ChordSymbol | null {
  if (!isDominant(symbol) || next === null) return null;
  return semitonesUp(symbol.root, next.root) === FOURTH_UP ? next : null;
}

const FOURTH_UP = 5;

export function isMinorQuality({ family }: ChordSymbol): boolean {
  return family === 'minor' || family === 'halfDiminished' || family === 'diminished';
}

/** A chord on a root, named as a reader of the key expects it, with the palette of that name. */
export function chordOn(
  key: Key,
  root: Tone,
  quality: string,
  beats: number,
  palette: string | null = null,
): Replacement[number] | null {
  const read = parseChordSymbol(formatTone(rootIn(key, root)) + quality);
  if (!read.ok) return null;
  const given = palette === null ? null : givenFor(read.value, palette);
  return { beats, symbol: read.value, given };
}

/** The chord as it is with a palette named for it; null when a scale does not hold its tones. */
export function recoloured({ written, symbol }: Spot, palette: string): Replacement | null {
  const given = givenFor(symbol, palette);
  if (given === null || written.given?.text === given.text) return null;
  const missing = pcMask(chordPcs(symbol)) & ~paletteMask(given.palette);
  const fifth = 1 << tonePc(symbol.root + 1);
  // The altered scale has no perfect fifth; a dominant's may be left out of it. Common practice, no source.
  const mayMiss = palette === 'altered' ? fifth : 0;
  return (missing & ~mayMiss) === 0 ? [{ beats: written.beats, symbol, given }] : null;
}

/** Cb and Fb, E# and B# are read in keys that have so many signs; elsewhere their plain names. Common practice, no source. */
const PLAIN_RANGE = { lowest: -6, highest: 10 };
const MANY_SIGNS = 5;

function rootIn(key: Key, root: Tone): Tone {
  const tone = simplifyTone(root);
  const fifths = keyFifths(key);
  if (tone < PLAIN_RANGE.lowest && fifths >= -MANY_SIGNS) return tone + 12;
  if (tone > PLAIN_RANGE.highest && fifths <= MANY_SIGNS) return tone - 12;
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
