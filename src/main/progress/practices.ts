/** Practices judged once: each again only when one of its takes has changed, or a new day has begun. */

import {
  type Due,
  dueOf,
  type PlayedTake,
  type Practice,
  practiceId,
  practicesOf,
} from '../../core/progress/index.ts';

export interface JudgedPractice extends Practice {
  readonly due: Due | null;
}

export interface PracticeBook {
  /** Every practice, the one played last first. In: takes newest first. */
  judge(
    takes: readonly PlayedTake[],
    nowMs: number,
    utcOffsetMinutes: number,
  ): readonly JudgedPractice[];
}

/** A verdict may turn with the clock alone, as takes grow older than a month: an hour is soon enough to tell. */
const JUDGED_FOR_MS = 3_600_000;

export function createPracticeBook(): PracticeBook {
  let known = new Map<string, { readonly takes: readonly PlayedTake[]; judged: JudgedPractice }>();
  let lastTakes: readonly PlayedTake[] | null = null;
  let lastOffset: number | null = null;
  let judgedAtMs = Number.NEGATIVE_INFINITY;
  let list: readonly JudgedPractice[] = [];

  return {
    judge(takes, nowMs, utcOffsetMinutes) {
      const isOld = nowMs < judgedAtMs || nowMs - judgedAtMs > JUDGED_FOR_MS;
      if (isOld || utcOffsetMinutes !== lastOffset) known = new Map();
      else if (takes === lastTakes) return list;
      if (known.size === 0) judgedAtMs = nowMs;
      const groups = Map.groupBy(takes, practiceId);
      const next: typeof known = new Map();
      for (const [name, own] of groups) {
        const before = known.get(name);
        if (before !== undefined && isSame(before.takes, own)) next.set(name, before);
        else {
          const [practice] = practicesOf(own, nowMs);
          if (practice === undefined) continue;
          const due = dueOf(practice, nowMs, utcOffsetMinutes);
          next.set(name, { takes: own, judged: { ...practice, due } });
        }
      }
      known = next;
      lastTakes = takes;
      lastOffset = utcOffsetMinutes;
      list = [...known.values()].map(({ judged }) => judged);
      return list;
    },
  };
}

function isSame(one: readonly PlayedTake[], other: readonly PlayedTake[]): boolean {
  return one.length === other.length && one.every((take, index) => take === other[index]);
}
