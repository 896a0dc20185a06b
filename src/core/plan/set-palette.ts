/** A palette named for one chord, for all such chords, or for a function in the key; or given back to the program. */

import { type Chart, type GivenPalette, moveGiven, type WrittenChord } from '../chart/index.ts';
import type { ChordSymbol } from '../theory/index.ts';
import { PLAIN } from '../words.ts';
import { chordsOf, planChords, planContents, withContents } from './written.ts';

/** A chord of a written bar; both count from 0. */
export interface ChordPlace {
  readonly bar: number;
  readonly chord: number;
}

/** How far a choice reaches: this chord; every chord of its quality on any root; every one of its quality on its root. */
export const PALETTE_REACHES = ['chord', 'quality', 'function'] as const;
export type PaletteReach = (typeof PALETTE_REACHES)[number];

/**
 * Names a palette for chords of a plan; null takes the name away, and the program chooses again. In a further plan only
 * that plan changes. On another root a scale's name stays and notes move along. A `%` of `plain` follows its bar. A
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
  const contents = planContents(chart, plan).map((content, bar) => {
    if (plan === PLAIN && content.kind === 'same') return content;
    const own = chords[bar] ?? [];
    const changed = own.map((chord, index) => {
      const isPlace = bar === place.bar && index === place.chord;
      if (chord.symbol === null || !(isPlace || reaches(reach, from, chord.symbol))) return chord;
      return named(chord, chord.symbol, from, given);
    });
    return changed.every((chord, index) => chord === own[index]) ? content : chordsOf(changed);
  });
  return withContents(chart, plan, contents);
}

function reaches(reach: PaletteReach, from: ChordSymbol, symbol: ChordSymbol): boolean {
  if (reach === 'chord' || !hasSameQuality(from, symbol)) return false;
  return reach === 'quality' || from.root === symbol.root;
}

function hasSameQuality(one: ChordSymbol, other: ChordSymbol): boolean {
  const tones = ({ tones: own }: ChordSymbol) => own.map(({ interval }) => interval).join();
  return one.altered === other.altered && tones(one) === tones(other);
}

function named(
  chord: WrittenChord,
  symbol: ChordSymbol,
  from: ChordSymbol,
  given: GivenPalette | null,
): WrittenChord {
  const by = symbol.root - from.root;
  return {
    ...chord,
    given: given === null || by === 0 ? given : moveGiven(given, by, symbol.root),
  };
}
