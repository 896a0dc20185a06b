/** Takes and practices written by hand for the tests of this folder. */

import {
  type DayTempo,
  type Moment,
  type PlayedTake,
  type Practice,
  practicesOf,
  type Resting,
  type TakeEvidence,
} from '../../../src/core/progress/index.ts';

export const DAY_MS = 86_400_000;
/** Noon UTC of a Wednesday. */
export const NOW_MS = Date.UTC(2025, 0, 15, 12);
export const TODAY = Math.floor(NOW_MS / DAY_MS);
export const NOW: Moment = { nowMs: NOW_MS, today: TODAY };

let count = 0;

export interface TakeWish extends Partial<Omit<PlayedTake, 'evidence'>> {
  readonly daysAgo?: number;
  readonly clean?: number;
  readonly slots?: number;
  readonly evidence?: Partial<TakeEvidence>;
}

/** A take of four choruses and 64 slots, all clean: enough for a raise, played now, unless told otherwise. */
export function take(wish: TakeWish = {}): PlayedTake {
  count++;
  const { daysAgo = 0, slots = 64, clean = slots, evidence, ...own } = wish;
  const playedAtMs = evidence?.playedAtMs ?? NOW_MS - daysAgo * DAY_MS;
  return {
    takeId: `take ${count}`,
    chartId: 'pier',
    chartTitle: 'Long Pier',
    plan: 'plain',
    key: 'Dm',
    level: 'steps',
    tempoBpm: 66,
    day: Math.floor(playedAtMs / DAY_MS),
    ...own,
    evidence: {
      choruses: 4,
      slots,
      clean,
      changesCounted: 2,
      changesOnTime: 2,
      changesUnproven: 0,
      changesLeftOut: 0,
      bars: [{ bar: 1, slots, clean }],
      lateChanges: [],
      ...evidence,
      playedAtMs,
    },
  };
}

/** What takes tell of how a tempo rises. */
export function dayTempos(takes: readonly PlayedTake[]): readonly DayTempo[] {
  return takes.map(({ day, tempoBpm, evidence: { slots, clean } }) => ({
    ...{ day, tempoBpm, slots, clean },
  }));
}

/** These takes as they rest, once their goal has held or before. */
export function resting(takes: readonly PlayedTake[], hasGoalHeld = true): Resting {
  return { ...practice(...takes), hasGoalHeld };
}

/** The one practice these takes make. */
export function practice(...takes: readonly PlayedTake[]): Practice {
  const [only, ...others] = practicesOf(takes, NOW_MS);
  if (only === undefined || others.length > 0) throw new Error('takes of one practice, please');
  return only;
}
