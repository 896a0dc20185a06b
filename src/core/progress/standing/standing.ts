/**
 * How a practice stands at a moment: which tempo holds, what to do with it, when it is due. Told once: Today, Progress, the
 * ladder and the report for a teacher all say it from here.
 */

import type { Practice } from '../history.ts';
import type { ReadinessVerdict } from '../readiness.ts';
import { type Due, dueOf } from '../spacing/index.ts';

export interface HeldTempos {
  /** The fastest tempo that holds now, or null. */
  readonly holdsBpm: number | null;
  /** The fastest tempo that has ever held, or null. */
  readonly heldBpm: number | null;
  readonly goalBpm: number | null;
}

/** What to do with a tempo, and why. */
export interface TempoAdvice {
  readonly tempoBpm: number;
  /** Its next tempo goes no further than a goal that lies ahead. */
  readonly verdict: ReadinessVerdict;
}

export interface Standing extends HeldTempos {
  /** The tempo played last. */
  readonly presentBpm: number;
  /** Days on the calendar since the last take; 0: today. */
  readonly daysSince: number;
  readonly due: Due;
  readonly advice: TempoAdvice;
}

/** `goalBpm` is the tempo to reach, null for none; `today` is days since 1970. */
export function standingOf(practice: Practice, goalBpm: number | null, today: number): Standing {
  const { holdsBpm, heldBpm, present, last } = practice;
  const hasGoalHeld = goalBpm !== null && heldBpm !== null && heldBpm >= goalBpm;
  return {
    ...{ holdsBpm, heldBpm, goalBpm, presentBpm: present.tempoBpm },
    daysSince: today - last.day,
    due: dueOf({ ...practice, hasGoalHeld }, today),
    advice: adviceOf(practice, goalBpm),
  };
}

/** Told of the tempo played last; where that one holds, of the fastest that does. */
function adviceOf({ present, fastest }: Practice, goalBpm: number | null): TempoAdvice {
  const isHolding = present.verdict.verdict === 'raise' && fastest !== null;
  const { tempoBpm, verdict } = isHolding ? fastest : present;
  const isAhead = goalBpm !== null && tempoBpm < goalBpm;
  const nextTempoBpm = isAhead ? Math.min(verdict.nextTempoBpm, goalBpm) : verdict.nextTempoBpm;
  return { tempoBpm, verdict: { ...verdict, nextTempoBpm } };
}
