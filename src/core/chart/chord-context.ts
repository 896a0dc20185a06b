/** Which chords stand around a chord, for choosing its palette. */

import type { ChordSymbol } from '../theory/chord-symbol.ts';

/** The nearest chords that differ from the one in question; null when there is none. */
export interface ChordContext {
  readonly previous: ChordSymbol | null;
  readonly next: ChordSymbol | null;
}

export const ALONE: ChordContext = { previous: null, next: null };

/**
 * For each chord of a form (null is `N.C.`) the nearest chords before and after it that differ from it in text.
 * The form goes around: before the first chord comes the last one. `N.C.` and repetitions are passed over, since
 * neither ends what a chord resolves from or to. Out: parallel to the chords.
 */
export function chordContexts(chords: readonly (ChordSymbol | null)[]): readonly ChordContext[] {
  const previous = lastDifferent(chords);
  const next = lastDifferent([...chords].reverse()).reverse();
  return chords.map((_, index) => ({
    previous: previous[index] ?? null,
    next: next[index] ?? null,
  }));
}

/** Walks the chords twice, so that those at the start see those at the end. */
function lastDifferent(chords: readonly (ChordSymbol | null)[]): (ChordSymbol | null)[] {
  let current: ChordSymbol | null = null;
  let different: ChordSymbol | null = null;
  const found: (ChordSymbol | null)[] = [];
  for (const symbol of [...chords, ...chords]) {
    if (symbol !== null && symbol.text !== current?.text) {
      different = current;
      current = symbol;
    }
    found.push(different);
  }
  return found.slice(chords.length);
}
