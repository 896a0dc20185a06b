/** When a practice should be played again, so that it is not lost. */

import { dayOf, dayStartMs } from '../days.ts';
import type { Played } from '../past.ts';
import { rememberBy } from '../remember.ts';
import { type Memory, memoryOf, retrievabilityOn } from './memory.ts';
import { ratedUntil } from './rated-past.ts';

export interface Due {
  /** The start of the day it is due on, ms since 1970. */
  readonly dueMs: number;
  /** Whole days from now to that day; 0 or less: due. */
  readonly inDays: number;
  readonly stabilityDays: number;
  /** The chance that it is still there today, 0 to 1. */
  readonly retrievability: number;
}

/**
 * When a practice is due; null while no day of it says enough to be rated. `nowMs` is ms since 1970. Throws a `RangeError` where
 * its past was told by another clock.
 */
export function dueOf(played: Played, nowMs: number, utcOffsetMinutes: number): Due | null {
  const memory = memoriesBy(utcOffsetMinutes)(played);
  if (memory === null) return null;
  const today = dayOf(nowMs, utcOffsetMinutes);
  return {
    dueMs: dayStartMs(memory.dueDay, utcOffsetMinutes),
    inDays: memory.dueDay - today,
    stabilityDays: memory.stabilityDays,
    retrievability: retrievabilityOn(memory, today),
  };
}

/** Tells what is left of a history, whatever the day, by one offset of the clock. */
function memoriesBy(utcOffsetMinutes: number): MemoryTeller {
  const known = tellers.get(utcOffsetMinutes);
  if (known !== undefined) return known;
  const tell: MemoryTeller = rememberBy((played: Played) =>
    memoryOf(ratedUntil(Number.POSITIVE_INFINITY, played, utcOffsetMinutes).days),
  );
  tellers.set(utcOffsetMinutes, tell);
  return tell;
}

type MemoryTeller = (played: Played) => Memory | null;

const tellers = new Map<number, MemoryTeller>();
