/** Chord symbols written, moved to other roots, and spelled out as notes. */

import type { ChordSymbol } from './chord-symbol.ts';
import { readRoot } from './parse-chord-symbol.ts';
import { plainSigns } from './plain-signs.ts';
import { readableTone } from './readable-tone.ts';
import { formatTone, type Interval, type Tone, tonePc } from './tone.ts';

/** Writes a symbol as its writer spelled it; the inverse of `parseChordSymbol`. */
export function formatChordSymbol(symbol: ChordSymbol): string {
  return symbol.text;
}

/**
 * A symbol on another root. In: an interval on the line of fifths (up a minor third is −3). Out: root and bass moved,
 * with one accidental at most (Bbb is written A); the quality stays as written, and a symbol with
 * musical flats or sharps keeps to them. Up and back by the same interval restores the symbol where no name had to be
 * simplified and the signs were of one kind.
 */
export function transposeChordSymbol(symbol: ChordSymbol, by: Interval): ChordSymbol {
  if (by === 0) return symbol;
  const root = readableTone(symbol.root + by);
  const bass = symbol.bass === null ? null : readableTone(symbol.bass + by);
  const isMusical = /[♭♯]/u.test(symbol.text);
  const write = (tone: Tone): string => (isMusical ? musical(formatTone(tone)) : formatTone(tone));
  const slash = bass === null ? '' : `/${write(bass)}`;
  return { ...symbol, text: write(root) + qualityText(symbol) + slash, root, bass };
}

/** The part of a symbol between root and bass, as its writer spelled it. */
export function qualityText({ text, bass }: ChordSymbol): string {
  const from = readRoot(plainSigns(text))?.length ?? 0;
  return bass === null ? text.slice(from) : text.slice(from, text.lastIndexOf('/'));
}

function musical(name: string): string {
  return name.replaceAll('b', '♭').replaceAll('#', '♯');
}

/** The pitch classes 0–11 (C = 0) of a chord's tones, each once, from the root upwards by degree; without the bass. */
export function chordPcs(symbol: ChordSymbol): readonly number[] {
  return [...new Set(symbol.tones.map(({ interval }) => tonePc(symbol.root + interval)))];
}

/**
 * The tones of a chord as note names, parallel to `tones`. A name that would need a double accidental is written as
 * the simple note (the fifth of Gbm7b5 is C, not Dbb): own rule, so that a reader meets no double accidental.
 */
export function chordNotes(symbol: ChordSymbol): readonly string[] {
  return symbol.tones.map(({ interval }) => formatTone(readableTone(symbol.root + interval)));
}

/** Whether a pitch class 0–11 belongs to the chord; a bass note outside it does not count. */
export function isChordTone(symbol: ChordSymbol, pc: number): boolean {
  return symbol.tones.some(({ interval }) => tonePc(symbol.root + interval) === pc);
}
