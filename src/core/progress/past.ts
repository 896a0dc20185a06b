/**
 * What the takes of a practice before a day came to. It can be kept: with it the takes played since, and those of a month before,
 * tell all that every take would, where a history of ten years is long.
 */

import { dayStartMs } from './days.ts';
import type { PlayedTake } from './history.ts';
import { onceHeldBpm } from './ladder/once-held.ts';
import { type RatedPast, ratedUntil } from './spacing/rated-past.ts';

export interface Past extends RatedPast {
  /** The first day that is not in it any more, by the clock it was told by. */
  readonly untilDay: number;
  readonly utcOffsetMinutes: number;
  readonly takeCount: number;
  /** The newest of its takes; null without any. */
  readonly last: LastTake | null;
  /** The fastest tempo that held at the end of any one of its takes. */
  readonly onceHeldBpm: number | null;
}

/** What is known of the take played last. */
export interface LastTake {
  readonly takeId: string;
  readonly chartTitle: string;
  readonly tempoBpm: number;
  /** Ms since 1970. */
  readonly playedAtMs: number;
}

/** What was played of one practice. */
export interface Played {
  /** Null: the takes are all there are. */
  readonly past: Past | null;
  /** Newest first. With a past all those from `WINDOW_DAYS` before its day on, or more. */
  readonly takes: readonly PlayedTake[];
}

/** The past of all the days before `untilDay`, which is not before that of the past it goes on from. */
export function pastUntil(untilDay: number, played: Played, utcOffsetMinutes: number): Past {
  const { past, takes } = played;
  const added = takesBefore(takesSince(played), untilDay, utcOffsetMinutes);
  return {
    ...ratedUntil(untilDay, played, utcOffsetMinutes),
    ...{ untilDay, utcOffsetMinutes },
    takeCount: (past?.takeCount ?? 0) + added.length,
    last: lastOf({ past, takes: added }),
    onceHeldBpm: onceHeldBpm({ past, takes: takesBefore(takes, untilDay, utcOffsetMinutes) }),
  };
}

/** The take played last; null where none was. */
export function lastOf({ past, takes: [newest] }: Played): LastTake | null {
  return newest === undefined ? (past?.last ?? null) : lastTakeOf(newest);
}

function lastTakeOf({ takeId, chartTitle, tempoBpm, evidence }: PlayedTake): LastTake {
  return { takeId, chartTitle, tempoBpm, playedAtMs: evidence.playedAtMs };
}

/** Of takes, newest first, those of the days before `day`. */
export function takesBefore(
  takes: readonly PlayedTake[],
  day: number,
  utcOffsetMinutes: number,
): readonly PlayedTake[] {
  const startMs = dayStartMs(day, utcOffsetMinutes);
  const place = takes.findIndex(({ evidence }) => evidence.playedAtMs < startMs);
  return place === -1 ? [] : takes.slice(place);
}

/** The takes that its past does not have, newest first. */
export function takesSince({ past, takes }: Played): readonly PlayedTake[] {
  if (past === null) return takes;
  const known = takesBefore(takes, past.untilDay, past.utcOffsetMinutes);
  return takes.slice(0, takes.length - known.length);
}
