/** When a practice should be played again, so that it is not lost. */

import { dayOf, dayStartMs } from '../days.ts';
import type { Practice } from '../history.ts';
import { rememberBy } from '../remember.ts';
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
  const { days, memory } = toldBy(utcOffsetMinutes)(practice.takes);
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

/** What a history comes to whatever the day, for each offset of the clock. */
function toldBy(utcOffsetMinutes: number) {
  const known = told.get(utcOffsetMinutes);
  if (known !== undefined) return known;
  const tell = rememberBy((takes: Practice['takes']) => {
    const days = rateDays({ takes }, utcOffsetMinutes);
    return { days, memory: memoryAfter(days) };
  });
  told.set(utcOffsetMinutes, tell);
  return tell;
}

const told = new Map<
  number,
  (takes: Practice['takes']) => {
    readonly days: readonly RatedDay[];
    readonly memory: ReturnType<typeof memoryAfter>;
  }
>();
