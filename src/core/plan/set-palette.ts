/** A palette named for one chord, for all such chords, or for a function in the key; or given back to the program. */

import {
  type BarContent,
  type Chart,
  type GivenPalette,
  moveGiven,
  type WrittenChord,
} from '../chart/index.ts';
import {
  type ChordSymbol,
  type Interval,
  parsePaletteText,
  type Tone,
  tonePc,
} from '../theory/index.ts';
import { PLAIN } from '../words.ts';
import { hasSameQuality } from './same-chord.ts';
import { chordsOf, planChords, planContents, withContents } from './written.ts';

/** A chord of a written bar; both count from 0. */
export interface ChordPlace {
  readonly bar: number;
  readonly chord: number;
}

export function isSamePlace(one: ChordPlace, other: ChordPlace): boolean {
  return one.bar === other.bar && one.chord === other.chord;
}

/**
 * How far a choice reaches: this chord; every chord of its quality on any root; or every one of its quality on its own
 * root, C# and Db being one: the chord in its function, since a chart has one key.
 */
export const PALETTE_REACHES = ['chord', 'quality', 'function'] as const;
export type PaletteReach = (typeof PALETTE_REACHES)[number];

/**
 * Names a palette for chords of a plan; null takes the name away, and the program chooses again. In a further plan only
 * that plan changes. On another root a scale's name stays and notes move along; `dorian #4` is written `dorian ♯4`,
 * which chart text can hold. A `%` of `plain` follows its bar, so a place in one stands for the chord it repeats. A
 * place without a chord changes nothing.
 */
export function setPalette(
  chart: Chart,
  plan: string,
  place: ChordPlace,
  reach: PaletteReach,
  given: GivenPalette | null,
): Chart {
  const chords = planChords(chart, plan);
  const from = chords[place.bar]?.[place.chord]?.symbol ?? null;
  if (from === null) return chart;
  const present = planContents(chart, plan);
  const placeBar = plan === PLAIN ? barWritten(present, place.bar) : place.bar;
  const contents = present.map((content, bar) => {
    if (plan === PLAIN && content.kind === 'same') return content;
    const own = chords[bar] ?? [];
    const changed = own.map((chord, index) => {
      const isPlace = bar === placeBar && index === place.chord;
      if (chord.symbol === null || !(isPlace || reaches(reach, from, chord.symbol))) return chord;
      return named(chord, chord.symbol, from, given);
    });
    return changed.every((chord, index) => chord === own[index]) ? content : chordsOf(changed);
  });
  return withContents(chart, plan, contents);
}

/** The bar itself, or the one it repeats. */
function barWritten(contents: readonly BarContent[], bar: number): number {
  return contents.findLastIndex(({ kind }, index) => index <= bar && kind === 'chords');
}

function reaches(reach: PaletteReach, from: ChordSymbol, symbol: ChordSymbol): boolean {
  if (reach === 'chord' || !hasSameQuality(from, symbol)) return false;
  return reach === 'quality' || tonePc(from.root) === tonePc(symbol.root);
}

function named(
  chord: WrittenChord,
  symbol: ChordSymbol,
  from: ChordSymbol,
  given: GivenPalette | null,
): WrittenChord {
  const wanted =
    given === null ? null : writable(moved(given, symbol.root - from.root, symbol.root));
  return wanted?.text === chord.given?.text ? chord : { ...chord, given: wanted };
}

/** The same notes under other names, one letter down or up. */
const ENHARMONIC = 12;

/**
 * The palette moved by an interval to another root. Between far roots (Cb to D#) notes would need more accidentals than
 * can be written: they take their other names.
 */
function moved(given: GivenPalette, by: Interval, root: Tone): GivenPalette {
  if (by === 0) return given;
  const tries = [by, by - ENHARMONIC, by + ENHARMONIC].map((each) => moveGiven(given, each, root));
  return tries.find(({ text }) => parsePaletteText(text, root).ok) ?? given;
}

/** As chart text can hold it: on one line, and without the `#` after white space that would start a comment. */
function writable({ text, palette }: GivenPalette): GivenPalette {
  const inLine = text.trim().replace(/\s+/gu, ' ');
  return { text: inLine.replace(/(^|\s)#/gu, '$1♯'), palette };
}
