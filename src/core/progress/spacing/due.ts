/** When a practice should be played again, so that it is not lost. */

import { dayOf, dayStartMs } from '../days.ts';
import type { Practice } from '../history.ts';
import { memoryAfter, type RatedDay, retrievabilityOn } from './memory.ts';
import { rateDays } from './rate-days.ts';

export interface Due {
  /** The start of the day it is due on, ms since 1970. */
  readonly dueMs: number;
  /** Whole days from now to that day; 0 or less: due. */
  readonly inDays: number;
  readonly stabilityDays: number;
  /** The chance that it is still there today, 0 to 1. */
  readonly retrievability: number;
  /** What it was told from, oldest first. */
  readonly days: readonly RatedDay[];
}

/** When a practice is due; null while no day of it says enough to be rated. `nowMs` is ms since 1970. */
export function dueOf(
  practice: Pick<Practice, 'takes'>,
  nowMs: number,
  utcOffsetMinutes: number,
): Due | null {
  const days = rateDays(practice, utcOffsetMinutes);
  const memory = memoryAfter(days);
  if (memory === null) return null;
  const today = dayOf(nowMs, utcOffsetMinutes);
  return {
    dueMs: dayStartMs(memory.dueDay, utcOffsetMinutes),
    inDays: memory.dueDay - today,
    stabilityDays: memory.stabilityDays,
    retrievability: retrievabilityOn(memory, today),
    days,
  };
}
