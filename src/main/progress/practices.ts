/** Practices judged once: each again only when one of its takes has changed, or a new day has begun. */

import {
  byLastPlayed,
  type Due,
  dueOf,
  type PlayedTake,
  type Practice,
  practiceOf,
} from '../../core/progress/index.ts';

export interface JudgedPractice extends Practice {
  readonly due: Due | null;
}

export interface PracticeBook {
  /** Every practice, the one played last first. In: the takes of each, newest first. */
  judge(
    takes: ReadonlyMap<string, readonly PlayedTake[]>,
    nowMs: number,
    utcOffsetMinutes: number,
  ): readonly JudgedPractice[];
}

/** A verdict may turn with the clock alone, as takes grow older than a month: an hour is soon enough to tell. */
const JUDGED_FOR_MS = 3_600_000;

export function createPracticeBook(): PracticeBook {
  let known = new Map<string, { readonly takes: readonly PlayedTake[]; judged: JudgedPractice }>();
  let lastTakes: ReadonlyMap<string, readonly PlayedTake[]> | null = null;
  let lastOffset: number | null = null;
  let judgedAtMs = Number.NEGATIVE_INFINITY;
  let list: readonly JudgedPractice[] = [];

  return {
    judge(takes, nowMs, utcOffsetMinutes) {
      const isOld = nowMs < judgedAtMs || nowMs - judgedAtMs > JUDGED_FOR_MS;
      if (isOld || utcOffsetMinutes !== lastOffset) known = new Map();
      else if (takes === lastTakes) return list;
      if (known.size === 0) judgedAtMs = nowMs;
      const next: typeof known = new Map();
      for (const [name, own] of takes) {
        const before = known.get(name);
        if (before?.takes === own) next.set(name, before);
        else {
          const practice = practiceOf(own, nowMs);
          if (practice === null) continue;
          const due = dueOf(practice, nowMs, utcOffsetMinutes);
          next.set(name, { takes: own, judged: { ...practice, due } });
        }
      }
      known = next;
      lastTakes = takes;
      lastOffset = utcOffsetMinutes;
      list = [...known.values()].map(({ judged }) => judged).sort(byLastPlayed);
      return list;
    },
  };
}
