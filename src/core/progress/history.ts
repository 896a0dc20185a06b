/**
 * What weeks of practice come to: for each chart, plan, key and level the tempos played and how each holds. A tempo holds
 * when its takes meet every condition of a raise (`grading.md`, "Ready for a faster tempo"), judged at a moment.
 */

import type { TakeEvidence } from './evidence.ts';
import { type LastTake, lastOf, type Played, takesSince } from './past.ts';
import { nameOfPractice, type PracticeName, practiceId } from './practice-name.ts';
import { judgeReadiness, type ReadinessVerdict, windowStartMs } from './readiness.ts';

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

/** What was played of one chart under one plan, key and level, judged at a moment. */
export interface Practice extends PracticeName {
  readonly chartTitle: string;
  /** What it was told from. */
  readonly played: Played;
  readonly takeCount: number;
  readonly last: LastTake;
  /** The takes of the last `WINDOW_DAYS`, newest first. */
  readonly recent: readonly PlayedTake[];
  /** The fastest tempo that holds, or null. */
  readonly holdsBpm: number | null;
  /** The record of that tempo. */
  readonly fastest: TempoRecord | null;
  /** The tempo played last, with its recent takes. */
  readonly present: TempoRecord;
}

/** Sorts takes into practices, the one played last first. `nowMs` and the takes' times are ms since 1970. */
export function practicesOf(takes: readonly PlayedTake[], nowMs: number): readonly Practice[] {
  return [...Map.groupBy(takes, practiceId).values()]
    .flatMap((group) => {
      const own = group.toSorted(newestFirst);
      const [newest] = own;
      const played = { past: null, takes: own };
      return newest === undefined ? [] : (practiceOf(newest, played, nowMs) ?? []);
    })
    .sort((one, other) => other.last.playedAtMs - one.last.playedAtMs);
}

/** Orders takes: the newest first. */
export function newestFirst(one: PlayedTake, other: PlayedTake): number {
  return other.evidence.playedAtMs - one.evidence.playedAtMs;
}

/**
 * What was played of a practice comes to; null where nothing was. `nowMs` is ms since 1970 and not before the day of its past:
 * the takes before it are not all there.
 */
export function practiceOf(name: PracticeName, played: Played, nowMs: number): Practice | null {
  const last = lastOf(played);
  if (last === null) return null;
  const recent = recentOf(played.takes, nowMs);
  const tempos = temposOf(recent, nowMs);
  const present = tempos.find(({ tempoBpm }) => tempoBpm === last.tempoBpm);
  const holding = tempos.find(({ verdict }) => verdict.verdict === 'raise');
  return {
    ...nameOfPractice(name),
    ...{ chartTitle: last.chartTitle, played, last, recent },
    takeCount: (played.past?.takeCount ?? 0) + takesSince(played).length,
    holdsBpm: holding?.tempoBpm ?? null,
    fastest: holding ?? null,
    present: present ?? tempoRecord(last.tempoBpm, [], nowMs),
  };
}

/** Each tempo of takes, newest first, judged on its own; the fastest first. */
export function temposOf(takes: readonly PlayedTake[], nowMs: number): readonly TempoRecord[] {
  return [...Map.groupBy(takes, ({ tempoBpm }) => tempoBpm)]
    .map(([tempoBpm, own]) => tempoRecord(tempoBpm, own, nowMs))
    .sort((one, other) => other.tempoBpm - one.tempoBpm);
}

function tempoRecord(tempoBpm: number, takes: readonly PlayedTake[], nowMs: number): TempoRecord {
  const evidence = takes.map((take) => take.evidence);
  return { tempoBpm, takes, verdict: judgeReadiness(evidence, tempoBpm, nowMs) };
}

/** Of takes, newest first, those of the last `WINDOW_DAYS`. */
function recentOf(takes: readonly PlayedTake[], nowMs: number): readonly PlayedTake[] {
  const oldestMs = windowStartMs(nowMs);
  const tooOld = takes.findIndex(({ evidence }) => evidence.playedAtMs < oldestMs);
  return tooOld === -1 ? takes : takes.slice(0, tooOld);
}
