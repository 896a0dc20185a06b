/** When a practice should be played again, so that it is not lost. */

import { dayOf, dayStartMs } from '../days.ts';
import type { Practice } from '../history.ts';
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
  const memory = memoryFor(practice, utcOffsetMinutes);
  if (memory === null) return null;
  const today = dayOf(nowMs, utcOffsetMinutes);
  return {
    dueMs: dayStartMs(memory.dueDay, utcOffsetMinutes),
    inDays: memory.dueDay - today,
    stabilityDays: memory.stabilityDays,
    retrievability: retrievabilityOn(memory, today),
  };
}

/** What is left of a history, whatever the day: told once for each list of takes and each offset of the clock. */
function memoryFor({ takes, past }: Played, utcOffsetMinutes: number): Memory | null {
  const told = memoriesBy.get(utcOffsetMinutes) ?? new WeakMap<Practice['takes'], Told>();
  memoriesBy.set(utcOffsetMinutes, told);
  const known = told.get(takes);
  if (known !== undefined) return known.memory;
  // By another clock its days are others.
  const before: Past =
    past?.utcOffsetMinutes === utcOffsetMinutes ? past : noPast(utcOffsetMinutes);
  const memory = memoryOf(pastUntil(Number.POSITIVE_INFINITY, takes, before).days);
  told.set(takes, { memory });
  return memory;
}

interface Told {
  readonly memory: Memory | null;
}

const memoriesBy = new Map<number, WeakMap<Practice['takes'], Told>>();
