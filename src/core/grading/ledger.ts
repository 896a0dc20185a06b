/**
 * What has been graded so far, as columns: one number per entry and column, so that a million notes cost
 * little and a report can be built from it at any time.
 */

import { FAULTS, type Fault, MARKS, type Mark } from '../words.ts';
import type { LineEntry } from './line-entry.ts';
import type { ReportExtra } from './report.ts';

/** Stands in the `midi` column where no note is. */
export const NO_NOTE = -1;

export interface Ledger {
  readonly midi: number[];
  readonly onsetMs: number[];
  readonly velocity: number[];
  readonly noteId: number[];
  readonly nominalMs: number[];
  readonly ordinal: number[];
  /** Tolerance, or −1 where timing is not judged. */
  readonly toleranceMs: number[];
  /** Entries since the last change, or −1. */
  readonly sinceChange: number[];
  readonly beforeChange: boolean[];
  /** Bit sets over `FAULTS` and `MARKS`. */
  readonly faults: number[];
  readonly marks: number[];
  readonly extras: ReportExtra[];
  /** Index of the last entry with a note, −1 before there is one. */
  lastFilled: number;
}

export function createLedger(): Ledger {
  return {
    midi: [],
    onsetMs: [],
    velocity: [],
    noteId: [],
    nominalMs: [],
    ordinal: [],
    toleranceMs: [],
    sinceChange: [],
    beforeChange: [],
    faults: [],
    marks: [],
    extras: [],
    lastFilled: -1,
  };
}

/** Writes an entry down, its extras with it; the verdict's columns start empty but for `extra`. */
export function appendEntry(ledger: Ledger, entry: LineEntry): void {
  const { strike, spares, doubled, index } = entry;
  ledger.midi.push(strike?.midi ?? NO_NOTE);
  ledger.onsetMs.push(strike?.onsetMs ?? 0);
  ledger.velocity.push(strike?.velocity ?? 0);
  ledger.noteId.push(strike?.noteId ?? -1);
  ledger.nominalMs.push(entry.nominalMs);
  ledger.ordinal.push(entry.ordinal);
  ledger.toleranceMs.push(entry.toleranceMs ?? -1);
  ledger.sinceChange.push(entry.sinceChange ?? -1);
  ledger.beforeChange.push(entry.beforeChange);
  ledger.faults.push(spares.length + doubled.length > 0 ? FAULT_BIT.extra : 0);
  ledger.marks.push(0);
  if (strike !== null) ledger.lastFilled = index;
  for (const spare of spares) {
    ledger.extras.push({ midi: spare.midi, onsetMs: spare.onsetMs, slot: index, reason: 'spare' });
  }
  for (const { doubles } of doubled) {
    for (const double of doubles) {
      const { midi, onsetMs } = double;
      ledger.extras.push({ midi, onsetMs, slot: index, reason: 'double' });
    }
  }
}

function bits<Word extends string>(words: readonly Word[]): Readonly<Record<Word, number>> {
  return Object.fromEntries(words.map((word, bit) => [word, 1 << bit])) as Record<Word, number>;
}

export const FAULT_BIT = bits(FAULTS);
export const MARK_BIT = bits(MARKS);

/** Lists of words by bit set, made once and shared: most slots have none. */
function wordLists<Word extends string>(words: readonly Word[]): readonly (readonly Word[])[] {
  return Array.from({ length: 1 << words.length }, (_, set) =>
    Object.freeze(words.filter((_word, bit) => (set & (1 << bit)) !== 0)),
  );
}

export const FAULT_LISTS: readonly (readonly Fault[])[] = wordLists(FAULTS);
export const MARK_LISTS: readonly (readonly Mark[])[] = wordLists(MARKS);
