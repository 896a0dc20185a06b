/** Practices judged once: each again only when one of its takes has changed, or some time has gone by. */

import {
  type Past,
  type PlayedTake,
  type Practice,
  practiceOf,
} from '../../core/progress/index.ts';

/** The takes of each practice, newest first. */
export type TakesOf = ReadonlyMap<string, readonly PlayedTake[]>;

export interface PracticeBook {
  /** The practices played last, the latest first: so many of them, or all (null). */
  latest(takes: TakesOf, most: number | null, nowMs: number): readonly Practice[];
  /** What takes, newest first, come to; null without any. */
  judge(takes: readonly PlayedTake[], nowMs: number): Practice | null;
}

/** A verdict may turn with the clock alone, as takes grow older than a month: an hour is soon enough to tell. */
const JUDGED_FOR_MS = 3_600_000;

/** `pastOf` tells what is kept of takes from an earlier time. */
export function createPracticeBook(
  pastOf: (takes: readonly PlayedTake[]) => Past | null,
): PracticeBook {
  let known = new WeakMap<readonly PlayedTake[], Practice>();
  let judgedAtMs = Number.NEGATIVE_INFINITY;

  function judge(takes: readonly PlayedTake[], nowMs: number): Practice | null {
    if (nowMs < judgedAtMs || nowMs - judgedAtMs > JUDGED_FOR_MS) {
      known = new WeakMap();
      judgedAtMs = nowMs;
    }
    const before = known.get(takes);
    if (before !== undefined) return before;
    const practice = practiceOf(takes, nowMs, pastOf(takes));
    if (practice !== null) known.set(takes, practice);
    return practice;
  }

  return {
    judge,
    latest: (takes, most, nowMs) =>
      latestFirst(takes)
        .slice(0, most ?? takes.size)
        .flatMap((own) => judge(own, nowMs) ?? []),
  };
}

/** The takes of each practice, the one played last first. */
export function latestFirst(takes: TakesOf): readonly (readonly PlayedTake[])[] {
  const lastMs = ([last]: readonly PlayedTake[]): number => last?.evidence.playedAtMs ?? 0;
  return [...takes.values()].sort((one, other) => lastMs(other) - lastMs(one));
}
