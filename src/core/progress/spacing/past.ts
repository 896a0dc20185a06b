/**
 * What the takes before a day came to. It can be kept: with it only what was played since has to be rated, where a history of ten
 * years is long.
 */

import { dayStartMs } from '../days.ts';
import type { PlayedTake } from '../history.ts';
import { type DaysSoFar, NO_DAYS, withDays } from './memory.ts';
import { rateDays } from './rate-days.ts';

export interface Past {
  /** The first day that is not in it any more, by the clock it was told by. */
  readonly untilDay: number;
  readonly utcOffsetMinutes: number;
  /** The fastest tempo that came out well. */
  readonly heldBpm: number | null;
  readonly days: DaysSoFar;
}

/** Before the first take. */
export function noPast(utcOffsetMinutes: number): Past {
  const untilDay = Number.NEGATIVE_INFINITY;
  return { untilDay, utcOffsetMinutes, heldBpm: null, days: NO_DAYS };
}

/** The past of all the days before `untilDay`, gone on from an earlier one. In: every take, newest first. */
export function pastUntil(untilDay: number, takes: readonly PlayedTake[], before: Past): Past {
  const { utcOffsetMinutes } = before;
  const newestFirst = takes.slice(
    firstBefore(takes, untilDay, utcOffsetMinutes),
    firstBefore(takes, before.untilDay, utcOffsetMinutes),
  );
  const { days, heldBpm } = rateDays({ takes: newestFirst }, utcOffsetMinutes, before.heldBpm);
  return { untilDay, utcOffsetMinutes, heldBpm, days: withDays(before.days, days) };
}

/** The place of the newest take of a day before `day`. */
function firstBefore(takes: readonly PlayedTake[], day: number, utcOffsetMinutes: number): number {
  const startMs = dayStartMs(day, utcOffsetMinutes);
  const place = takes.findIndex(({ evidence }) => evidence.playedAtMs < startMs);
  return place === -1 ? takes.length : place;
}
