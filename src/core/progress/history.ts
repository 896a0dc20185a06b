/**
 * What weeks of practice come to: for each chart, plan, key and level the tempos played and how each holds. A tempo holds
 * when its takes meet every condition of a raise (`grading.md`, "Ready for a faster tempo"), judged at a moment.
 */

import { DAY_MS } from './days.ts';
import type { TakeEvidence } from './evidence.ts';
import { nameOfPractice, type PracticeName, practiceId } from './practice-name.ts';
import { judgeReadiness, type ReadinessVerdict } from './readiness.ts';
import type { Past } from './spacing/past.ts';

/** One take over the whole form, as far as progress is concerned. */
export interface PlayedTake extends PracticeName {
  readonly takeId: string;
  readonly chartTitle: string;
  /** Beats per minute. */
  readonly tempoBpm: number;
  readonly evidence: TakeEvidence;
}

/** One tempo of a practice, judged on its own takes. */
export interface TempoRecord {
  readonly tempoBpm: number;
  /** Newest first. */
  readonly takes: readonly PlayedTake[];
  readonly verdict: ReadinessVerdict;
}

/** All takes of one chart under one plan, key and level. */
export interface Practice extends PracticeName {
  readonly chartTitle: string;
  /** Newest first. */
  readonly takes: readonly PlayedTake[];
  /** Fastest first. */
  readonly tempos: readonly TempoRecord[];
  /** The fastest tempo that holds, or null. */
  readonly holdsBpm: number | null;
  /** The tempo played last. */
  readonly present: TempoRecord;
  /** Whole days since the last take. */
  readonly daysSince: number;
  /** What its takes before a day came to, where that is known from an earlier time. */
  readonly past: Past | null;
}

/** Sorts takes into practices, the one played last first. `nowMs` and the takes' times are ms since 1970. */
export function practicesOf(takes: readonly PlayedTake[], nowMs: number): readonly Practice[] {
  const groups = Map.groupBy(takes, practiceId);
  return [...groups.values()].flatMap((group) => practiceOf(group, nowMs) ?? []).sort(byLastPlayed);
}

/** Orders practices: the one played last first. */
function byLastPlayed(one: Practice, other: Practice): number {
  return lastMs(other) - lastMs(one);
}

function lastMs({ takes }: Practice): number {
  return takes[0]?.evidence.playedAtMs ?? 0;
}

function newestFirst(one: PlayedTake, other: PlayedTake): number {
  return other.evidence.playedAtMs - one.evidence.playedAtMs;
}

function isNewestFirst(takes: readonly PlayedTake[]): boolean {
  return takes.every((take, index) => {
    const before = takes[index - 1];
    return before === undefined || newestFirst(before, take) <= 0;
  });
}

/** The practice that takes of one name come to, in any order; null without any. `nowMs` is ms since 1970. */
export function practiceOf(
  group: readonly PlayedTake[],
  nowMs: number,
  past: Past | null = null,
): Practice | null {
  // The very list where it is in order: what is remembered of it stays known.
  const takes = isNewestFirst(group) ? group : group.toSorted(newestFirst);
  const [last] = takes;
  if (last === undefined) return null;
  const tempos = [...Map.groupBy(takes, ({ tempoBpm }) => tempoBpm)]
    .map(([tempoBpm, own]): TempoRecord => {
      const evidence = own.map((take) => take.evidence);
      return { tempoBpm, takes: own, verdict: judgeReadiness(evidence, tempoBpm, nowMs) };
    })
    .sort((one, other) => other.tempoBpm - one.tempoBpm);
  const present = tempos.find(({ tempoBpm }) => tempoBpm === last.tempoBpm);
  if (present === undefined) return null;
  const holding = tempos.find(({ verdict }) => verdict.verdict === 'raise');
  return {
    ...nameOfPractice(last),
    ...{ chartTitle: last.chartTitle, takes, tempos, present },
    holdsBpm: holding?.tempoBpm ?? null,
    daysSince: Math.floor((nowMs - last.evidence.playedAtMs) / DAY_MS),
    past,
  };
}
