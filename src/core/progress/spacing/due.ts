/**
 * When a practice should be played again. Own rules around the model of `memory.ts`, in whole days:
 *
 * - once the goal has held, spacing alone decides;
 * - until then it is due two weeks after its last rated day at the latest: what is on its way is not left to rest;
 * - while no day of it says enough to be rated, it is due on the day after the last.
 */

import type { DueReason } from '../../words.ts';
import { dayOf } from '../days.ts';
import type { LastTake, Played } from '../past.ts';
import { rememberBy } from '../remember.ts';
import { type Memory, memoryOf, retrievabilityOn } from './memory.ts';
import { ratedUntil } from './rated-past.ts';

/** A practice whose goal has not held rests no longer. Own rule. */
export const LONGEST_REST_DAYS = 14;

export interface Due {
  /** Whole days from today to the day it is due on; 0 or less: due. */
  readonly inDays: number;
  readonly reason: DueReason;
  /** The chance that it is still there today, 0 to 1; null where it is untold. */
  readonly retrievability: number | null;
}

/** What is asked about: all that was played of a practice, the newest take of it, and whether its goal has ever held. */
export interface Resting {
  readonly played: Played;
  readonly last: Pick<LastTake, 'playedAtMs'>;
  readonly hasGoalHeld: boolean;
}

/** When a practice is due. `nowMs` is ms since 1970. Throws a `RangeError` where its past was told by another clock. */
export function dueOf(
  { played, last, hasGoalHeld }: Resting,
  nowMs: number,
  utcOffsetMinutes: number,
): Due {
  const memory = memoriesBy(utcOffsetMinutes)(played);
  const today = dayOf(nowMs, utcOffsetMinutes);
  if (memory === null) {
    const lastDay = dayOf(last.playedAtMs, utcOffsetMinutes);
    return { inDays: lastDay + 1 - today, reason: 'untold', retrievability: null };
  }
  const retrievability = retrievabilityOn(memory, today);
  const latestDay = memory.lastDay + LONGEST_REST_DAYS;
  return hasGoalHeld || memory.dueDay <= latestDay
    ? { inDays: memory.dueDay - today, reason: 'fading', retrievability }
    : { inDays: latestDay - today, reason: 'goalAhead', retrievability };
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
