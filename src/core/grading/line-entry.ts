/** One place of the line, on its way from the keyboard to a verdict. */

import type { Strike } from '../take/strikes.ts';

/**
 * An entry of the line; at `free` every note is one, else every slot. The verdict is written into it once it is
 * settled: bit sets over `FAULTS` and `MARKS`, so that a slot costs no lists of its own.
 */
export interface LineEntry {
  /** From 0, in order. */
  readonly index: number;
  /** The note, or null for a slot that nothing filled. */
  readonly strike: Strike | null;
  readonly nominalMs: number;
  /** Null where timing is not judged. */
  readonly toleranceMs: number | null;
  /** The chord in force, counted through all choruses from 0. */
  readonly ordinal: number;
  /** Entries since the last change, from 0 at its first one; null before the first change of the take. */
  readonly sinceChange: number | null;
  /** Whether this is the last slot before a change. */
  readonly beforeChange: boolean;
  faults: number;
  marks: number;
}

/**
 * Told of the next entry, with the onsets of its cell that fill no slot and the strikes of its cell that have
 * doubles; both lists are nearly always empty.
 */
export type EntryListener = (
  entry: LineEntry,
  spares: readonly Strike[],
  doubled: readonly Strike[],
) => void;

/** Where an entry stands in the form; the report's words for it. */
export interface EntryPlace {
  readonly chorus: number;
  readonly bar: number;
  readonly beat: number;
  readonly sub: number;
  /** Position through the whole take in beats, from 0. */
  readonly beatsIn: number;
}

/** Turns strikes into entries of the line; one way for the slot levels, one for `free`. */
export interface LineReader {
  add(strike: Strike): void;
  advance(timeMs: number): void;
  end(): void;
  placeOf(index: number): EntryPlace;
  /** The entry an onset would belong to as far as can be told now, or null when it lies outside the line. */
  preview(onsetMs: number): Preview | null;
  /** Slots of the planned end that lie after the entry `last` (null: nothing was played). */
  unplayedAfter(last: number | null): number;
}

export interface Preview {
  readonly index: number;
  readonly ordinal: number;
  readonly nominalMs: number;
  readonly toleranceMs: number | null;
}
