/** What has been graded so far: every entry of the line with its verdict, and the extras beside it. */

import type { Strike } from '../take/strikes.ts';
import { FAULTS, type Fault, MARKS, type Mark } from '../words.ts';
import type { LineEntry } from './line-entry.ts';
import type { ReportExtra } from './report.ts';

export interface Ledger {
  readonly entries: LineEntry[];
  readonly extras: ReportExtra[];
  /** Index of the last entry with a note, −1 before there is one. */
  lastFilled: number;
}

export function createLedger(): Ledger {
  return { entries: [], extras: [], lastFilled: -1 };
}

/** Writes an entry down, its extras with it; of its faults only `extra` is known yet. */
export function appendEntry(
  ledger: Ledger,
  entry: LineEntry,
  spares: readonly Strike[],
  doubled: readonly Strike[],
): void {
  ledger.entries.push(entry);
  if (entry.strike !== null) ledger.lastFilled = entry.index;
  if (spares.length + doubled.length === 0) return;
  entry.faults |= FAULT_BIT.extra;
  const slot = entry.index;
  for (const { midi, onsetMs } of spares) {
    ledger.extras.push({ midi, onsetMs, slot, reason: 'spare' });
  }
  for (const { midi, onsetMs } of doubled.flatMap(({ doubles }) => doubles)) {
    ledger.extras.push({ midi, onsetMs, slot, reason: 'double' });
  }
}

/** The key an entry holds, or null. */
export function midiAt(ledger: Ledger, index: number): number | null {
  return ledger.entries[index]?.strike?.midi ?? null;
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
