/** Which chords break, whatever the chart: kinds of chord against roots. */

import {
  CHORD_FAMILIES,
  type ChordFamily,
  type ChordSymbol,
  parseChordSymbol,
  tonePc,
} from '../../theory/index.ts';
import type { PlayedTake } from '../history.ts';
import { type AddHits, type HeatMatrix, heatMatrix } from './matrix.ts';

const ROOT_PCS = Array.from({ length: 12 }, (_, pc) => pc);

/**
 * Kinds of chord × roots (pitch classes, C = 0): slots that were not clean, of all slots over such a chord. Kinds that never
 * came have no row. Bars without a chord are left out, and so is a chord no symbol can be read from, which no chart holds.
 * In: takes, newest first.
 */
export function chordsByRoots(takes: readonly PlayedTake[]): HeatMatrix<ChordFamily, number> {
  const symbols = new Map<string, ChordSymbol | null>();
  for (const { chord } of takes.flatMap(({ evidence }) => evidence.chords ?? [])) {
    if (!symbols.has(chord)) symbols.set(chord, readSymbol(chord));
  }
  const count = (add: AddHits): void => {
    for (const take of takes) {
      for (const { chord, slots, clean } of take.evidence.chords ?? []) {
        const symbol = symbols.get(chord) ?? null;
        if (symbol === null) continue;
        add(take, symbol.family, String(tonePc(symbol.root)), slots - clean, slots);
      }
    }
  };
  const families = new Set([...symbols.values()].map((symbol) => symbol?.family));
  return heatMatrix(
    {
      values: CHORD_FAMILIES.filter((family) => families.has(family)),
      nameOf: (family) => family,
    },
    { values: ROOT_PCS, nameOf: String },
    count,
    takes.filter(({ evidence }) => evidence.chords === undefined),
  );
}

function readSymbol(text: string): ChordSymbol | null {
  const outcome = parseChordSymbol(text);
  return outcome.ok ? outcome.value : null;
}
