/** The rated days of a practice before a day, gone on from those that are known. */

import { type Played, takesBefore, takesSince } from '../past.ts';
import { type DaysSoFar, NO_DAYS, withDays } from './memory.ts';
import { rateDays } from './rate-days.ts';

export interface RatedPast {
  /** The fastest tempo that came out well on a day. */
  readonly heldBpm: number | null;
  readonly days: DaysSoFar;
}

/** What is rated of all days before `untilDay`. Throws a `RangeError` for a past told by another clock: its days are others. */
export function ratedUntil(untilDay: number, played: Played, utcOffsetMinutes: number): RatedPast {
  const { past } = played;
  if (past !== null && past.utcOffsetMinutes !== utcOffsetMinutes) {
    throw new RangeError('a past told by another clock');
  }
  const takes = takesBefore(takesSince(played), untilDay, utcOffsetMinutes);
  const { days, heldBpm } = rateDays({ takes }, utcOffsetMinutes, past?.heldBpm ?? null);
  return { heldBpm, days: withDays(past?.days ?? NO_DAYS, days) };
}
