/** When a take is over by itself, and what follows it. Pure. */

import type { Report } from '../../../core/grading/index.ts';
import { createBeatClock, createSlotGrid } from '../../../core/grid/index.ts';
import { lengthMs } from '../../audio/index.ts';
import type { RunWish } from '../../prepare/run-wish.ts';
import type { Following, Practice } from '../machine.ts';
import { inNextKey } from '../next-key.ts';
import { nextTempo } from '../next-tempo.ts';

/** After the last planned beat the last note may still sound, and the closing note come. */
const LEAST_AFTER_END_MS = 1500;
/** How much later than played an event may be there. */
const DELIVERY_MS = 250;

export interface TakeSpan {
  /** Time of the score at which a take of so many choruses is over, with keys that arrive so late; null: endless. */
  endMs(latencyMs: number): number | null;
  /** When a chorus and the first beat after it are over: its last notes have settled. */
  chorusEndMs(chorus: number): number;
}

export function takeSpan({ form, setUp, tempoBpm }: Practice): TakeSpan {
  const { choruses } = setUp.grade;
  const clock = createBeatClock(form, { kind: 'steady', tempoBpm });
  const { plannedSlots, timeMs } = createSlotGrid(form, clock, setUp.grade);
  const plannedMs = lengthMs(form, clock, choruses);
  const chorusMs = lengthMs(form, clock, 1) ?? 0;
  return {
    endMs: (latencyMs) => (plannedMs === null ? null : plannedMs + afterEndMs(latencyMs)),
    chorusEndMs: (chorus) => chorus * chorusMs + clock.beatMs(0),
  };

  /** The closing note has its cell, as `grading.md` says, up to the middle of the first slot after the end and the next. */
  function afterEndMs(latencyMs: number): number {
    if (plannedSlots === null) return LEAST_AFTER_END_MS;
    const closingMs = (timeMs(plannedSlots + 1) - timeMs(plannedSlots)) / 2;
    return Math.max(LEAST_AFTER_END_MS, closingMs + latencyMs + DELIVERY_MS);
  }
}

/** At the planned end: the next key of a cycle, or the next example; null: nothing comes after it. */
export function afterPlannedEnd(
  practice: Practice,
  firstKey: string,
  { keyCycle, heard }: Pick<RunWish, 'keyCycle' | 'heard'>,
  seed: number,
): Following | null {
  const { setUp, tempoBpm } = practice;
  const next = keyCycle === null ? null : inNextKey(setUp, firstKey, keyCycle, seed);
  if (next !== null) {
    const { form, sentence } = next;
    return { practice: { form, setUp: next.setUp, tempoBpm }, sentence };
  }
  return heard === null ? null : { practice, sentence: 'Once more: listen, then play.' };
}

/** After a chorus of endless play: the same at the tempo that readiness asks for; null: on as it is. */
export function afterChorus(practice: Practice, report: Report, setBpm: number): Following | null {
  const { form, setUp } = practice;
  const next = nextTempo(report, form, setBpm);
  if (next === null) return null;
  const { tempoBpm, sentence } = next;
  return { practice: { form, setUp, tempoBpm }, sentence };
}
