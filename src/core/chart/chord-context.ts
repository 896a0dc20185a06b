/** Which chords stand around a chord, for choosing its palette. */

import type { ChordSymbol } from '../theory/chord-symbol.ts';

/** The chords before and after a chord, nearest first, none alike to its neighbour; empty where there are none. */
export interface ChordContext {
  readonly before: readonly ChordSymbol[];
  readonly after: readonly ChordSymbol[];
}

export const ALONE: ChordContext = { before: [], after: [] };

/**
 * How many chords are seen each way. A choice looks as far as the I of a ii–V–I, and every form that ii and V are
 * repeated in takes one more. Own number.
 */
const REACH = 8;

/**
 * For each chord of a form (null is `N.C.`) the chords before and after it, those left out that have the text of the one
 * just before them. The form goes around: before the first chord comes the last one. `N.C.` is passed over, since it
 * does not end what a chord resolves from or to. Out: parallel to the chords.
 */
export function chordContexts(chords: readonly (ChordSymbol | null)[]): readonly ChordContext[] {
  const { row, places } = differing(chords);
  if (row.length > 1 && row.at(-1)?.text === row[0]?.text) row.pop();
  if (row.length < 2) return chords.map(() => ALONE);
  const contexts = row.map((_, place) => contextAt(place, (at) => row.at(at % row.length)));
  return places.map((place) => contexts.at(place % row.length) ?? ALONE);
}

/** The same where the chords go once from end to end, as those of a pickup do. */
export function chordContextsOnce(
  chords: readonly (ChordSymbol | null)[],
): readonly ChordContext[] {
  const { row, places } = differing(chords);
  return places.map((place) => contextAt(place, (at) => (at < 0 ? undefined : row[at])));
}

/** The chords that differ from the one before them, and for each chord of the form which of them it is. */
function differing(chords: readonly (ChordSymbol | null)[]) {
  const row: ChordSymbol[] = [];
  const places = chords.map((symbol) => {
    if (symbol !== null && symbol.text !== row.at(-1)?.text) row.push(symbol);
    return row.length - 1;
  });
  return { row, places };
}

function contextAt(
  place: number,
  chordAt: (place: number) => ChordSymbol | undefined,
): ChordContext {
  const seen = (step: 1 | -1) =>
    Array.from({ length: REACH }, (_, index) => place + step * (index + 1)).flatMap(
      (at) => chordAt(at) ?? [],
    );
  return { before: seen(-1), after: seen(1) };
}
