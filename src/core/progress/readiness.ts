/** Whether the tempo should be raised, held or eased. Source of every number: `grading.md`, "Ready for a faster tempo". */

import { sumByBar } from '../grading/index.ts';
import type { Readiness } from '../words.ts';
import { DAY_MS } from './days.ts';
import type { ChangeEvidence, TakeEvidence } from './evidence.ts';
import { type RateInterval, wilsonInterval } from './wilson.ts';

export const WINDOW_DAYS = 30;
export const RAISE_CHORUSES = 2;
export const RAISE_SLOTS = 64;
export const RAISE_CLEAN_RATE = 0.9;
export const RAISE_ON_TIME_SHARE = 0.9;
export const RAISE_BAR_RATE = 0.75;
export const EASE_SLOTS = 32;
export const EASE_CLEAN_RATE = 0.75;

/** How far back takes count: they are taken newest first until both are reached. */
export interface Enough {
  readonly choruses: number;
  readonly slots: number;
}

/** For takes of a whole form. */
export const ENOUGH: Enough = { choruses: 3, slots: 0 };

/** For takes of a few bars, whose choruses are too short to reach the slots a raise needs. Own rule. */
export const ENOUGH_OF_BARS: Enough = { choruses: 3, slots: RAISE_SLOTS };

/** One thing that stands in the way of a raise. */
export type Obstacle =
  | { readonly kind: 'choruses'; readonly missing: number }
  | { readonly kind: 'slots'; readonly missing: number }
  | { readonly kind: 'cleanRate'; readonly lower: number }
  | {
      readonly kind: 'changes';
      readonly onTimeShare: number;
      readonly worst: readonly ChangeEvidence[];
    }
  | { readonly kind: 'bars'; readonly bars: readonly number[] };

export interface ReadinessVerdict {
  readonly verdict: Readiness;
  /** The tempo to play next: raised, eased or the same. */
  readonly nextTempoBpm: number;
  readonly choruses: number;
  readonly slots: number;
  readonly clean: number;
  readonly interval: RateInterval;
  /** Why it is not a raise; empty when it is one. */
  readonly obstacles: readonly Obstacle[];
}

/** Raises a tempo: +4 %, at least +2, in whole beats per minute. */
export function raisedTempoBpm(tempoBpm: number): number {
  return Math.max(Math.round(tempoBpm * 1.04), Math.round(tempoBpm) + 2);
}

/** Eases a tempo: −8 %, in whole beats per minute and at least one less. */
export function easedTempoBpm(tempoBpm: number): number {
  return Math.max(1, Math.min(Math.round(tempoBpm * 0.92), Math.ceil(tempoBpm) - 1));
}

/**
 * Judges a tempo on its takes, newest first, until there are enough (3 choruses) or 30 days before `nowMs` are reached.
 * With no take at all the verdict is `hold`.
 */
export function judgeReadiness(
  takes: readonly TakeEvidence[],
  tempoBpm: number,
  nowMs: number,
  enough: Enough = ENOUGH,
): ReadinessVerdict {
  const recent = recentTakes(takes, nowMs, enough);
  const sum = (count: (take: TakeEvidence) => number): number =>
    recent.reduce((total, take) => total + count(take), 0);
  const slots = sum((take) => take.slots);
  const clean = sum((take) => take.clean);
  const choruses = sum((take) => take.choruses);
  const interval = wilsonInterval(clean, slots);
  const obstacles = findObstacles(recent, choruses, slots, interval);
  const base = { choruses, slots, clean, interval, obstacles };
  if (obstacles.length === 0) {
    return { ...base, verdict: 'raise', nextTempoBpm: raisedTempoBpm(tempoBpm) };
  }
  if (slots >= EASE_SLOTS && interval.upper < EASE_CLEAN_RATE) {
    return { ...base, verdict: 'ease', nextTempoBpm: easedTempoBpm(tempoBpm) };
  }
  return { ...base, verdict: 'hold', nextTempoBpm: tempoBpm };
}

function recentTakes(
  takes: readonly TakeEvidence[],
  nowMs: number,
  enough: Enough,
): readonly TakeEvidence[] {
  const oldestMs = nowMs - WINDOW_DAYS * DAY_MS;
  const chosen: TakeEvidence[] = [];
  let choruses = 0;
  let slots = 0;
  for (const take of [...takes].sort((a, b) => b.playedAtMs - a.playedAtMs)) {
    if (take.playedAtMs < oldestMs) break;
    if (choruses >= enough.choruses && slots >= enough.slots) break;
    chosen.push(take);
    choruses += take.choruses;
    slots += take.slots;
  }
  return chosen;
}

function findObstacles(
  takes: readonly TakeEvidence[],
  choruses: number,
  slots: number,
  interval: RateInterval,
): readonly Obstacle[] {
  const obstacles: Obstacle[] = [];
  if (choruses < RAISE_CHORUSES) {
    obstacles.push({ kind: 'choruses', missing: RAISE_CHORUSES - choruses });
  }
  if (slots < RAISE_SLOTS) obstacles.push({ kind: 'slots', missing: RAISE_SLOTS - slots });
  if (interval.lower < RAISE_CLEAN_RATE) {
    obstacles.push({ kind: 'cleanRate', lower: interval.lower });
  }
  const counted = takes.reduce((total, take) => total + take.changesCounted, 0);
  const onTime = takes.reduce((total, take) => total + take.changesOnTime, 0);
  if (onTime < RAISE_ON_TIME_SHARE * counted) {
    const worst = mostFrequent(takes.flatMap((take) => take.lateChanges));
    obstacles.push({ kind: 'changes', onTimeShare: onTime / counted, worst });
  }
  const bars = weakBars(takes);
  if (bars.length > 0) obstacles.push({ kind: 'bars', bars });
  return obstacles;
}

/** Changes that were most often not on time, most frequent first, then in the order of the form. */
function mostFrequent(changes: readonly ChangeEvidence[]): readonly ChangeEvidence[] {
  const counts = new Map<string, { readonly change: ChangeEvidence; count: number }>();
  for (const change of changes) {
    const place = `${change.bar}:${change.beat}`;
    const entry = counts.get(place) ?? { change, count: 0 };
    entry.count++;
    counts.set(place, entry);
  }
  return [...counts.values()]
    .sort(
      (a, b) => b.count - a.count || a.change.bar - b.change.bar || a.change.beat - b.change.beat,
    )
    .map(({ change }) => change);
}

/** Bars of the form under the clean rate a raise needs, in the order of the form. */
function weakBars(takes: readonly TakeEvidence[]): readonly number[] {
  const sums = sumByBar(takes.flatMap((take) => take.bars));
  return [...sums]
    .filter(([, { slots, clean }]) => clean < RAISE_BAR_RATE * slots)
    .map(([bar]) => bar)
    .sort((a, b) => a - b);
}
