/**
 * What weeks of practice come to: for each chart, plan, key and level the tempos played and how each holds. A tempo holds
 * when its takes meet every condition of a raise (`grading.md`, "Ready for a faster tempo"), judged at a moment.
 */

import type { TakeEvidence } from './evidence.ts';
import { nameOfPractice, type PracticeName, practiceId } from './practice-name.ts';
import { judgeInShort, judgeReadiness, type ReadinessVerdict, windowStartMs } from './readiness.ts';
import { type Memory, memoryOf, rateDays, rateTempos } from './spacing/index.ts';

/** One take over the whole form, as far as progress is concerned. */
export interface PlayedTake extends PracticeName {
  readonly takeId: string;
  readonly chartTitle: string;
  /** Beats per minute. */
  readonly tempoBpm: number;
  /** Days since 1970 on the calendar of the place it was played in. */
  readonly day: number;
  readonly evidence: TakeEvidence;
}

/** What is known of the take played last. */
export interface LastTake extends Pick<PlayedTake, 'takeId' | 'chartTitle' | 'tempoBpm' | 'day'> {
  /** Ms since 1970. */
  readonly playedAtMs: number;
}

/** What all takes of a practice over the whole form came to. */
export interface KeptPractice {
  readonly name: PracticeName;
  readonly takeCount: number;
  readonly last: LastTake;
  /** The fastest tempo that held at the end of any one of its takes, however long ago; null for none. */
  readonly onceHeldBpm: number | null;
  /** How well it should still be there; null while no day of it says enough to be rated. */
  readonly memory: Memory | null;
}

/** One tempo of a practice, judged on its own takes. */
export interface TempoRecord {
  readonly tempoBpm: number;
  /** Newest first. */
  readonly takes: readonly PlayedTake[];
  readonly verdict: ReadinessVerdict;
}

/** What was played of one chart under one plan, key and level, judged at a moment. */
export interface Practice extends PracticeName, Omit<KeptPractice, 'name' | 'onceHeldBpm'> {
  readonly chartTitle: string;
  /** The takes of the last `WINDOW_DAYS`, newest first. */
  readonly recent: readonly PlayedTake[];
  /** The fastest tempo that holds, or null. */
  readonly holdsBpm: number | null;
  /** The record of that tempo. */
  readonly fastest: TempoRecord | null;
  /**
   * The fastest tempo that has ever held, or null. One that holds now may have held at the end of no take, once an older one no longer
   * counts.
   */
  readonly heldBpm: number | null;
  /** The tempo played last, with its recent takes. */
  readonly present: TempoRecord;
}

/** Sorts all takes there are into practices, the one played last first. `nowMs` is ms since 1970. */
export function practicesOf(takes: readonly PlayedTake[], nowMs: number): readonly Practice[] {
  return [...Map.groupBy(takes, practiceId).values()]
    .flatMap((group) => {
      const own = group.toSorted(newestFirst);
      const kept = keptPractice(own);
      return kept === null ? [] : [practiceOf(kept, own, nowMs)];
    })
    .sort((one, other) => other.last.playedAtMs - one.last.playedAtMs);
}

/** Orders takes: the newest first; of one moment in an order of their own. */
export function newestFirst(one: PlayedTake, other: PlayedTake): number {
  return (
    other.evidence.playedAtMs - one.evidence.playedAtMs || (one.takeId < other.takeId ? 1 : -1)
  );
}

/** What all takes of a practice, newest first, came to; null without any. */
function keptPractice(takes: readonly PlayedTake[]): KeptPractice | null {
  const [newest] = takes;
  if (newest === undefined) return null;
  const { takeId, chartTitle, tempoBpm, day, evidence } = newest;
  const held = [...Map.groupBy(takes, (take) => take.tempoBpm)]
    .filter(([, own]) => own.some((_, index) => holdsAtEnd(own.slice(index))))
    .map(([heldBpm]) => heldBpm);
  const days = [...Map.groupBy(takes, (take) => take.day)]
    .sort(([one], [other]) => one - other)
    .flatMap(([own, played]) => rateTempos(played).map((tempo) => ({ day: own, ...tempo })));
  return {
    name: nameOfPractice(newest),
    takeCount: takes.length,
    last: { takeId, chartTitle, tempoBpm, day, playedAtMs: evidence.playedAtMs },
    onceHeldBpm: held.length === 0 ? null : Math.max(...held),
    memory: memoryOf(rateDays(days)),
  };
}

/** Whether a tempo met every condition of a raise when the first of its takes, newest first, had been played. */
export function holdsAtEnd(takes: readonly PlayedTake[]): boolean {
  const evidence = takes.map((take) => take.evidence);
  const [newest] = evidence;
  return newest !== undefined && judgeInShort(evidence, newest.playedAtMs).verdict === 'raise';
}

/** A practice at a moment, ms since 1970. `takes` are those of the last `WINDOW_DAYS`, or more, newest first. */
export function practiceOf(
  { name, onceHeldBpm, ...kept }: KeptPractice,
  takes: readonly PlayedTake[],
  nowMs: number,
): Practice {
  const { last } = kept;
  const recent = recentOf(takes, nowMs);
  const tempos = temposOf(recent, nowMs);
  const present = tempos.find(({ tempoBpm }) => tempoBpm === last.tempoBpm);
  const holding = tempos.find(({ verdict }) => verdict.verdict === 'raise');
  return {
    ...nameOfPractice(name),
    ...kept,
    ...{ chartTitle: last.chartTitle, recent },
    holdsBpm: holding?.tempoBpm ?? null,
    fastest: holding ?? null,
    heldBpm: fasterOf(onceHeldBpm, holding?.tempoBpm ?? null),
    present: present ?? tempoRecord(last.tempoBpm, [], nowMs),
  };
}

function fasterOf(one: number | null, other: number | null): number | null {
  return one === null || other === null ? (one ?? other) : Math.max(one, other);
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
