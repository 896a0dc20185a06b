/** Practices judged once: each again only when one of its takes has changed, or some time has gone by. */

import {
  type LastTake,
  type Played,
  type Practice,
  type PracticeName,
  practiceOf,
} from '../../core/progress/index.ts';

/** What was played of each practice, by its `practiceId`. */
export type PracticesOf = ReadonlyMap<string, PlayedPractice>;

export interface PlayedPractice {
  readonly name: PracticeName;
  readonly last: LastTake;
  /** The very same as long as nothing of it changes. */
  readonly played: Played;
}

export interface PracticeBook {
  /** The practices played last, the latest first: so many of them, or all (null). */
  latest(practices: PracticesOf, most: number | null, nowMs: number): readonly Practice[];
  /** What was played comes to; null where nothing was. */
  judge(practice: PlayedPractice, nowMs: number): Practice | null;
}

/** A verdict may turn with the clock alone, as takes grow older than a month: an hour is soon enough to tell. */
const JUDGED_FOR_MS = 3_600_000;

export function createPracticeBook(): PracticeBook {
  let known = new WeakMap<Played, Practice>();
  let judgedAtMs = Number.NEGATIVE_INFINITY;

  function judge({ name, played }: PlayedPractice, nowMs: number): Practice | null {
    if (nowMs < judgedAtMs || nowMs - judgedAtMs > JUDGED_FOR_MS) {
      known = new WeakMap();
      judgedAtMs = nowMs;
    }
    const before = known.get(played);
    if (before !== undefined) return before;
    const practice = practiceOf(name, played, nowMs);
    if (practice !== null) known.set(played, practice);
    return practice;
  }

  return {
    judge,
    latest: (practices, most, nowMs) =>
      latestFirst(practices)
        .slice(0, most ?? practices.size)
        .flatMap((practice) => judge(practice, nowMs) ?? []),
  };
}

/** The one played last first. */
export function latestFirst(practices: PracticesOf): readonly PlayedPractice[] {
  return [...practices.values()].sort((one, other) => other.last.playedAtMs - one.last.playedAtMs);
}
