/** How fast a new rung is begun. */

import type { Ladder, Rung } from '../ladder/index.ts';
import { easedTempoBpm } from '../readiness.ts';

/** Of the goal, where nothing has held yet: slower than feels necessary. Own rule. */
const GOAL_SHARE = 0.6;
/** Where there is no goal either. Own rule. */
const UNKNOWN_GOAL_BPM = 60;

export interface StartTempo {
  readonly tempoBpm: number;
  /** What it was told from: the tempo that has held on the rung before, or null. */
  readonly fromBpm: number | null;
}

/**
 * One step of ease below what has held on the rung before it in its key; on the first rung of a key, on the same rung of the
 * key before. Where that is unknown, a share of the goal.
 */
export function startTempoBpm({ rungs }: Ladder, rung: Rung): StartTempo {
  const before = rungs[rungs.indexOf(rung) - 1];
  const sameRungs = rungs
    .slice(0, Math.max(0, rungs.indexOf(rung)))
    .filter(({ level, plan }) => level === rung.level && plan === rung.plan);
  const source = before?.key === rung.key ? before : sameRungs.at(-1);
  const fromBpm = source?.heldBpm ?? null;
  if (fromBpm !== null) return { tempoBpm: easedTempoBpm(fromBpm), fromBpm };
  const goalBpm = rung.goalBpm;
  return {
    tempoBpm: goalBpm === null ? UNKNOWN_GOAL_BPM : Math.max(1, Math.round(goalBpm * GOAL_SHARE)),
    fromBpm,
  };
}
