/** The tempos on the way to a goal, each one step of raise above the last. */

import { raisedTempoBpm } from './readiness.ts';

/** A plan longer than this is no plan. Own rule. */
const MOST_STEPS = 24;

/**
 * Tempos from where one is to the goal, both included; the last step is cut short at the goal. A goal at or below the
 * start gives the start alone. Source of the step: `grading.md`, `raise`.
 */
export function tempoPlan(fromBpm: number, goalBpm: number): readonly number[] {
  const tempos = [fromBpm];
  for (let last = fromBpm; last < goalBpm && tempos.length < MOST_STEPS; ) {
    last = Math.min(goalBpm, raisedTempoBpm(last));
    tempos.push(last);
  }
  return tempos;
}
