/** Names for played notes: `Eb4` where the palette, the chord or the key says E flat. */

import type { ChordSymbol } from './chord-symbol.ts';
import { type Key, keyFifths } from './key.ts';
import type { Palette } from './palette.ts';
import { readableTone } from './readable-tone.ts';
import { formatTone, parseTone, type Tone, toneAlter, tonePc } from './tone.ts';

/** What decides a spelling: the palette first, then the chord, then the key. */
export interface SpellingContext {
  readonly palette: Palette | null;
  readonly symbol: ChordSymbol | null;
  readonly key: Key;
}

/** MIDI notes 0–127 are looked up; others are spelled when asked for. */
const MIDI_NOTES = 128;

/**
 * The name of one MIDI note with its octave: C4 = 60. The octave follows the letter, so B#3 is 60 and Cb5 is 71.
 * In: any whole MIDI number. Order: the palette's spelling (rising, then falling), the chord's, else the key's notes,
 * then flats or sharps as chord and key lean. Octaves: common practice, no source; order of spelling: own rule.
 */
export function spellMidi(midi: number, context: SpellingContext): string {
  return nameWithOctave(midi, spellPcs(context)[pcOf(midi)] ?? 0);
}

/** The same as `spellMidi` for one context and many notes: all names are made at once and then looked up. */
export function makeSpeller(context: SpellingContext): (midi: number) => string {
  const tones = spellPcs(context);
  const name = (midi: number): string => nameWithOctave(midi, tones[pcOf(midi)] ?? 0);
  const names = Array.from({ length: MIDI_NOTES }, (_, midi) => name(midi));
  return (midi) => names[midi] ?? name(midi);
}

/**
 * The name of a note a semitone below or above another one that it leads to, with its octave: a minor second away, so F#4
 * below G4 and Ab4 above it; E#, B#, Cb and Fb under their plain names. In: two MIDI numbers a semitone apart, and the name of
 * the second. Chromatic notes are spelled by their resolution: common practice, no source.
 */
export function spellApproach(midi: number, target: number, targetName: string): string {
  const to = parseTone(targetName.replace(/-?\d+$/u, '')) ?? FLAT_SIDE;
  const tone = to + (midi < target ? MINOR_SECOND_DOWN : -MINOR_SECOND_DOWN);
  return nameWithOctave(midi, tone < FLAT_SIDE ? tone + 12 : tone > SHARPEST ? tone - 12 : tone);
}

const MINOR_SECOND_DOWN = 5;
/** A#; beyond it E# and B#. */
const SHARPEST: Tone = 10;

function pcOf(midi: number): number {
  return ((midi % 12) + 12) % 12;
}

function nameWithOctave(midi: number, tone: Tone): string {
  const octave = Math.floor((midi - toneAlter(tone)) / 12) - 1;
  return `${formatTone(tone)}${octave}`;
}

/** The tone each pitch class 0–11 is spelled by. */
function spellPcs({ palette, symbol, key }: SpellingContext): readonly Tone[] {
  const tones: Tone[] = [...keyTones(key, symbol)];
  const given = [
    ...(symbol === null ? [] : chordSpellings(symbol)),
    ...readNotes(palette?.falling?.notes ?? []),
    ...readNotes(palette?.notes ?? []),
  ];
  for (const tone of given) tones[tonePc(tone)] = tone;
  return tones;
}

function chordSpellings(symbol: ChordSymbol): readonly Tone[] {
  const own = symbol.tones.map(({ interval }) => readableTone(symbol.root + interval));
  return symbol.bass === null ? own : [symbol.bass, ...own];
}

/** Palette notes come from our own palettes; one with more accidentals than are read keeps the key's spelling. */
function readNotes(notes: readonly string[]): readonly Tone[] {
  return notes.flatMap((note) => parseTone(note) ?? []);
}

/** The twelve tones around a tonic: flats below it, sharps above, from the lowered second to the raised fourth. */
const CHROMATIC_FROM = -5;

/**
 * A spelling for every pitch class without palette: the key's own seven notes, then naturals, then flats or sharps as
 * the chord leans, else the key; a key without signature takes the twelve tones around its tonic (Bb but F# in C and
 * in Am; also C# and G# in Am).
 */
function keyTones(key: Key, symbol: ChordSymbol | null): readonly Tone[] {
  const signature = keyFifths(key);
  const lean = chordLean(symbol) || Math.sign(signature);
  const from = lean === 0 ? key.tonic + CHROMATIC_FROM : lean < 0 ? FLAT_SIDE : SHARP_SIDE;
  const tones: Tone[] = [];
  for (let tone = from; tone < from + 12; tone++) tones[tonePc(tone)] = tone;
  for (let tone = signature - 1; tone <= signature + 5; tone++)
    tones[tonePc(tone)] = readableTone(tone);
  return tones;
}

/** Gb to B: naturals and flats. */
const FLAT_SIDE: Tone = -6;

/** F to A#: naturals and sharps. */
const SHARP_SIDE: Tone = -1;

/** −1 for a chord spelled with more flats than sharps, 1 for more sharps, 0 for neither. */
function chordLean(symbol: ChordSymbol | null): number {
  if (symbol === null) return 0;
  const alters = chordSpellings(symbol).map(toneAlter);
  return Math.sign(alters.reduce((sum, alter) => sum + alter, 0));
}
