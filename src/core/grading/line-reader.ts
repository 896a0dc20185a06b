/** The line as a row of entries: at `free` every note is one, else every slot. What is known of each beforehand. */

import type { Strike } from '../take/strikes.ts';
import type { Span } from './breaks.ts';

/** Where an entry stands in the form, whatever the chorus; the report's words for it. */
export interface EntryPlace {
  readonly bar: number;
  readonly beat: number;
  readonly sub: number;
}

/** What an entry is judged against, whatever was played there. Entries count from 0. */
export interface LinePlaces {
  placeOf(index: number): EntryPlace;
  /** From 1. */
  chorusOf(index: number): number;
  /** Position through the whole take in beats, from 0. */
  beatsIn(index: number): number;
  nominalMs(index: number): number;
  /** Null where timing is not judged. */
  toleranceMs(index: number): number | null;
  /** The chord in force, counted through all choruses from 0. */
  ordinal(index: number): number;
  /** Entries since the last change, from 0 at its first one; null before the first change of the take. */
  sinceChange(index: number): number | null;
  /** Whether this is the last slot before a change. */
  beforeChange(index: number): boolean;
}

/**
 * Told of the next entry: its note (null: nothing fills the slot), the onsets of its cell that fill no slot, and the
 * strikes of its cell that have doubles; both lists are nearly always empty.
 */
export type EntryListener = (
  index: number,
  strike: Strike | null,
  spares: readonly Strike[],
  doubled: readonly Strike[],
) => void;

/** Turns strikes into entries; one way for the slot levels, one for `free`. */
export interface LineReader extends LinePlaces {
  add(strike: Strike): void;
  advance(timeMs: number): void;
  end(): void;
  /** The span of an entry: a break that touches it leaves the entry unjudged. */
  cell(index: number): Span;
  /** The note after the end of the line, once the line has ended. */
  closing(): ClosingStrike | null;
  /** The entry an onset would belong to as far as can be told now, or null when it lies outside the line. */
  preview(onsetMs: number): Preview | null;
  /** Slots of the planned end that lie after the entry `last` (null: nothing was played). */
  unplayedAfter(last: number | null): number;
}

/** A note that lies where the next chorus would begin, and what it is measured against. */
export interface ClosingStrike {
  readonly strike: Strike;
  readonly nominalMs: number;
}

export interface Preview {
  readonly index: number;
  /** Whether it would be the closing note, which is no entry. */
  readonly isClosing: boolean;
  readonly ordinal: number;
  readonly nominalMs: number;
  readonly toleranceMs: number | null;
}
