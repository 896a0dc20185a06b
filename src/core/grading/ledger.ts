/**
 * What has been played and judged so far: a column for each fact, a row for each entry of the line. Columns of bare
 * numbers, because objects that live as long as the take cost the collector more than the whole grading.
 */

import { createLongList, type LongList } from '../long-list.ts';
import type { Strike } from '../take/strikes.ts';
import { FAULTS, type Fault, MARKS, type Mark } from '../words.ts';
import type { ReportExtra } from './report.ts';

export interface Ledger {
  /** Rows written; the columns may be longer. */
  length: number;
  /** What the place says, written down once: it is asked for many times. */
  ordinal: Int32Array;
  nominalMs: Float64Array;
  /** The key of the entry, or `NO_KEY`. */
  midi: Int16Array;
  onsetMs: Float64Array;
  velocity: Uint8Array;
  noteId: Int32Array;
  /** Index of the source its key came from. */
  source: Uint8Array;
  /** 0 where a break touches the entry's cell, else 1. */
  judged: Uint8Array;
  /** Bit sets over `FAULTS` and `MARKS`. */
  faults: Uint8Array;
  marks: Uint8Array;
  readonly extras: LongList<ReportExtra>;
  /** Index of the last entry with a note, −1 before there is one. */
  lastFilled: number;
}

const NO_KEY = -1;
const FIRST_ROWS = 256;

export function createLedger(): Ledger {
  return {
    length: 0,
    ordinal: new Int32Array(FIRST_ROWS),
    nominalMs: new Float64Array(FIRST_ROWS),
    midi: new Int16Array(FIRST_ROWS),
    onsetMs: new Float64Array(FIRST_ROWS),
    velocity: new Uint8Array(FIRST_ROWS),
    noteId: new Int32Array(FIRST_ROWS),
    source: new Uint8Array(FIRST_ROWS),
    judged: new Uint8Array(FIRST_ROWS),
    faults: new Uint8Array(FIRST_ROWS),
    marks: new Uint8Array(FIRST_ROWS),
    extras: createLongList(),
    lastFilled: -1,
  };
}

/** Writes an entry down, its extras with it; of its faults only `extra` is known yet. */
export function appendEntry(
  ledger: Ledger,
  ordinal: number,
  nominalMs: number,
  judged: boolean,
  strike: Strike | null,
  spares: readonly Strike[],
  doubled: readonly Strike[],
): void {
  const slot = ledger.length;
  if (slot === ledger.midi.length) makeRoom(ledger);
  ledger.length++;
  ledger.ordinal[slot] = ordinal;
  ledger.nominalMs[slot] = nominalMs;
  ledger.judged[slot] = judged ? 1 : 0;
  ledger.midi[slot] = strike?.midi ?? NO_KEY;
  if (strike !== null) {
    ledger.onsetMs[slot] = strike.onsetMs;
    ledger.velocity[slot] = strike.velocity;
    ledger.noteId[slot] = strike.noteId;
    ledger.source[slot] = strike.source;
    ledger.lastFilled = slot;
  }
  if (spares.length + doubled.length === 0) return;
  if (judged) ledger.faults[slot] = FAULT_BIT.extra;
  for (const { midi, onsetMs } of spares) {
    ledger.extras.push({ midi, onsetMs, slot, reason: 'spare' });
  }
  for (const { midi, onsetMs } of doubled.flatMap(({ doubles }) => doubles)) {
    ledger.extras.push({ midi, onsetMs, slot, reason: 'double' });
  }
}

function makeRoom(ledger: Ledger): void {
  const rows = ledger.midi.length * 2;
  ledger.ordinal = copyInto(new Int32Array(rows), ledger.ordinal);
  ledger.nominalMs = copyInto(new Float64Array(rows), ledger.nominalMs);
  ledger.midi = copyInto(new Int16Array(rows), ledger.midi);
  ledger.onsetMs = copyInto(new Float64Array(rows), ledger.onsetMs);
  ledger.velocity = copyInto(new Uint8Array(rows), ledger.velocity);
  ledger.noteId = copyInto(new Int32Array(rows), ledger.noteId);
  ledger.source = copyInto(new Uint8Array(rows), ledger.source);
  ledger.judged = copyInto(new Uint8Array(rows), ledger.judged);
  ledger.faults = copyInto(new Uint8Array(rows), ledger.faults);
  ledger.marks = copyInto(new Uint8Array(rows), ledger.marks);
}

function copyInto<Column extends { set(from: ArrayLike<number>): void }>(
  column: Column,
  from: ArrayLike<number>,
): Column {
  column.set(from);
  return column;
}

/** Whether an entry is judged: no break touches its cell. */
export function isJudged(ledger: Ledger, index: number): boolean {
  return ledger.judged[index] === 1;
}

/**
 * The key of an entry as far as it counts, or null: none where the entry is not judged, so that nothing before or after it
 * is judged by it either; none before the first entry and after the last.
 */
export function midiAt(ledger: Ledger, index: number): number | null {
  return isJudged(ledger, index) ? keyAt(ledger, index) : null;
}

/** The key an entry holds, judged or not, or null; also before the first entry and after the last. */
export function keyAt(ledger: Ledger, index: number): number | null {
  if (index < 0 || index >= ledger.length) return null;
  const midi = ledger.midi[index] ?? NO_KEY;
  return midi === NO_KEY ? null : midi;
}

/** The chord in force at an entry, counted through all choruses from 0. */
export function ordinalAt(ledger: Ledger, index: number): number {
  return ledger.ordinal[index] ?? 0;
}

/** When an entry is due, ms on the take's clock. */
export function nominalAt(ledger: Ledger, index: number): number {
  return ledger.nominalMs[index] ?? 0;
}

/** The onset of an entry that holds a key, ms on the take's clock. */
export function onsetAt(ledger: Ledger, index: number): number {
  return ledger.onsetMs[index] ?? 0;
}

/** Adds faults or marks, as bit sets, to what an entry has. */
export function addVerdict(ledger: Ledger, index: number, faults: number, marks: number): void {
  ledger.faults[index] = (ledger.faults[index] ?? 0) | faults;
  ledger.marks[index] = (ledger.marks[index] ?? 0) | marks;
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
