/**
 * When a practice should be played again. Own rules around the model of `memory.ts`, in whole days:
 *
 * - once the goal has held, spacing alone decides;
 * - until then it is due two weeks after its last rated day at the latest: what is on its way is not left to rest;
 * - while no day of it says enough to be rated, it is due on the day after the last.
 */

import type { DueReason } from '../../words.ts';
import { type Memory, retrievabilityOn } from './memory.ts';

/** A practice whose goal has not held rests no longer. Own rule. */
export const LONGEST_REST_DAYS = 14;

export interface Due {
  /** Whole days from today to the day it is due on; 0 or less: due. */
  readonly inDays: number;
  readonly reason: DueReason;
  /** The chance that it is still there today, 0 to 1; null where it is untold. */
  readonly retrievability: number | null;
}

/** What is asked about: what is left of its days, the day of its newest take, and whether its goal has ever held. */
export interface Resting {
  readonly memory: Memory | null;
  readonly last: { readonly day: number };
  readonly hasGoalHeld: boolean;
}

/** When a practice is due. `today` is days since 1970, as are all days. */
export function dueOf({ memory, last, hasGoalHeld }: Resting, today: number): Due {
  if (memory === null) {
    return { inDays: last.day + 1 - today, reason: 'untold', retrievability: null };
  }
  const retrievability = retrievabilityOn(memory, today);
  const latestDay = memory.lastDay + LONGEST_REST_DAYS;
  return hasGoalHeld || memory.dueDay <= latestDay
    ? { inDays: memory.dueDay - today, reason: 'fading', retrievability }
    : { inDays: latestDay - today, reason: 'goalAhead', retrievability };
}
