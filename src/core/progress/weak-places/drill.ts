/** A weak place practised alone: slower, round and round, until it holds at the tempo of its context. */

import type { PlayedTake } from '../history.ts';
import {
  easedTempoBpm,
  judgeReadiness,
  type Obstacle,
  type ReadinessVerdict,
  raisedTempoBpm,
} from '../readiness.ts';
import { tempoPlan } from '../tempo-plan.ts';
import type { WeakPlace } from './rank.ts';

/** Bars of the unrolled form, both included. */
export interface BarRange {
  readonly from: number;
  readonly to: number;
}

/** A take of some bars alone. */
export interface RangeTake extends PlayedTake {
  readonly bars: BarRange;
}

export interface Drill {
  /** What is looped. */
  readonly bars: BarRange;
  /** The tempo the place must hold at before it goes back. */
  readonly contextBpm: number;
  /** From the first tempo to that of the context. */
  readonly tempos: readonly number[];
}

export type DrillState =
  | {
      readonly kind: 'untilItHolds';
      readonly tempoBpm: number;
      /** The fastest tempo the bars hold at alone, or null. */
      readonly heldBpm: number | null;
      /** What is missing at the tempo to be played. */
      readonly obstacles: readonly Obstacle[];
    }
  | { readonly kind: 'backInContext'; readonly tempoBpm: number };

/** The tempo a weak place is practised at, alone: one step of ease below. Source: `grading.md`, `ease`. */
export function drillTempoBpm(tempoBpm: number): number {
  return easedTempoBpm(tempoBpm);
}

/** Takes looked at for the length of their form; the newest tell it as it is now. Own rule. */
const TAKES_OF_LENGTH = 20;

/** The last bar of a form, from takes of it, newest first; 1 without any. */
export function lastBarOf(takes: readonly PlayedTake[]): number {
  let last = 1;
  for (const { evidence } of takes.slice(0, TAKES_OF_LENGTH)) {
    for (const { bar } of evidence.bars) last = Math.max(last, bar);
  }
  return last;
}

/**
 * The drill of a place: the bar before leads in and the bar after leads out, as far as the form has them (its last bar is
 * `lastBar`), since it is at the changes in and out that a place breaks. Own rule. `contextBpm` is the tempo of the whole form.
 */
export function drillOf(
  { from, to }: Pick<WeakPlace, 'from' | 'to'>,
  contextBpm: number,
  lastBar: number,
): Drill {
  return {
    bars: { from: Math.max(1, from - 1), to: Math.min(lastBar, to + 1) },
    contextBpm,
    tempos: tempoPlan(drillTempoBpm(contextBpm), contextBpm),
  };
}

/**
 * Where a drill stands after takes; those of other bars are passed over. A tempo holds when it meets the conditions of a
 * raise on these bars, over as many loops as give them slots enough. The next tempo is one step above the fastest that
 * holds, or the first of the drill, and is eased as often as its own takes call for it.
 */
export function drillState(drill: Drill, takes: readonly RangeTake[], nowMs: number): DrillState {
  const { bars, contextBpm, tempos } = drill;
  const own = takes.filter((take) => take.bars.from === bars.from && take.bars.to === bars.to);
  const judge = (tempoBpm: number): ReadinessVerdict => {
    const evidence = own.filter((take) => take.tempoBpm === tempoBpm).map((take) => take.evidence);
    return judgeReadiness(evidence, tempoBpm, nowMs);
  };
  const held = own.map(({ tempoBpm }) => tempoBpm).filter((bpm) => judge(bpm).verdict === 'raise');
  const heldBpm = held.length === 0 ? null : Math.max(...held);
  if (heldBpm !== null && heldBpm >= contextBpm) {
    return { kind: 'backInContext', tempoBpm: contextBpm };
  }
  const firstBpm = tempos[0] ?? contextBpm;
  let tempoBpm = heldBpm === null ? firstBpm : Math.min(contextBpm, raisedTempoBpm(heldBpm));
  let verdict = judge(tempoBpm);
  while (verdict.verdict === 'ease' && verdict.nextTempoBpm < tempoBpm) {
    tempoBpm = verdict.nextTempoBpm;
    verdict = judge(tempoBpm);
  }
  return { kind: 'untilItHolds', tempoBpm, heldBpm, obstacles: verdict.obstacles };
}
