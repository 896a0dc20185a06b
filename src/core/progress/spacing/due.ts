/** When a practice should be played again, so that it is not lost. */

import { dayOf, dayStartMs } from '../days.ts';
import type { Practice } from '../history.ts';
import { rememberBy } from '../remember.ts';
import { type Memory, memoryOf, retrievabilityOn } from './memory.ts';
import { noPast, type Past, pastUntil } from './past.ts';

export interface Due {
  /** The start of the day it is due on, ms since 1970. */
  readonly dueMs: number;
  /** Whole days from now to that day; 0 or less: due. */
  readonly inDays: number;
  readonly stabilityDays: number;
  /** The chance that it is still there today, 0 to 1. */
  readonly retrievability: number;
}

/** What a practice is told to be due from: its takes, newest first, and what is known of those before a day. */
type Played = Pick<Practice, 'takes'> & Partial<Pick<Practice, 'past'>>;

/** When a practice is due; null while no day of it says enough to be rated. `nowMs` is ms since 1970. */
export function dueOf(practice: Played, nowMs: number, utcOffsetMinutes: number): Due | null {
  const memory = memoriesBy(utcOffsetMinutes)(practice.takes, practice.past ?? null);
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
  const tell: MemoryTeller = rememberBy((takes: Practice['takes'], past: Past | null) => {
    // By another clock its days are others.
    const before = past?.utcOffsetMinutes === utcOffsetMinutes ? past : noPast(utcOffsetMinutes);
    return memoryOf(pastUntil(Number.POSITIVE_INFINITY, takes, before).days);
  });
  tellers.set(utcOffsetMinutes, tell);
  return tell;
}

type MemoryTeller = (takes: Practice['takes'], past: Past | null) => Memory | null;

const tellers = new Map<number, MemoryTeller>();
