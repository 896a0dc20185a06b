/**
 * How fast the tempo of a practice rises. The tempo of a day is the fastest one played that day with nine slots in ten
 * clean or more, on as many slots as an ease is judged on. It is told from that day alone: the tempo that holds, judged on
 * a month, would carry each day over into the next and make any interval too narrow. Own rule, as are the counts below.
 */

import { dayOf } from '../days.ts';
import type { Practice } from '../history.ts';
import { EASE_SLOTS, RAISE_CLEAN_RATE } from '../readiness.ts';
import { type Point, slopeInterval } from './slope-interval.ts';

/** Eight weeks: what is older tells how it was, not how it goes. */
export const GAIN_WINDOW_DAYS = 56;
export const GAIN_LEAST_DAYS = 5;
export const GAIN_LEAST_SPAN_DAYS = 7;

/** Tempos are played in whole beats: a day's is known no better than an even spread over one beat, variance 1/12. */
const ROUNDING_VARIANCE = 1 / 12;

const WEEK_DAYS = 7;

export interface DayTempo {
  readonly day: number;
  readonly tempoBpm: number;
}

export type RateOfGain =
  | {
      readonly kind: 'tooThin';
      /** Further days with a clean tempo that are needed. */
      readonly missingDays: number;
      /** Days by which the first and the last lie too close. */
      readonly missingSpanDays: number;
      readonly days: readonly DayTempo[];
    }
  | {
      readonly kind: 'gain';
      readonly bpmPerWeek: number;
      /**
       * Bounds of the 95 % interval. They hold where days scatter independently about a straight line; of simulated players
       * half of whose form lasts into the next day of practice they cover 78 in 100.
       */
      readonly lower: number;
      readonly upper: number;
      readonly days: readonly DayTempo[];
    };

/** The rate of gain over the last eight weeks before `nowMs`, or what is missing to tell it. */
export function rateOfGain(
  practice: Pick<Practice, 'takes'>,
  nowMs: number,
  utcOffsetMinutes: number,
): RateOfGain {
  const today = dayOf(nowMs, utcOffsetMinutes);
  const days = cleanTempos(practice, utcOffsetMinutes).filter(
    ({ day }) => day > today - GAIN_WINDOW_DAYS && day <= today,
  );
  const spanDays = (days.at(-1)?.day ?? 0) - (days[0]?.day ?? 0);
  const missingDays = Math.max(0, GAIN_LEAST_DAYS - days.length);
  const missingSpanDays = Math.max(0, GAIN_LEAST_SPAN_DAYS - spanDays);
  const thin = { kind: 'tooThin', missingDays, missingSpanDays, days } as const;
  if (missingDays > 0 || missingSpanDays > 0) return thin;
  const points = days.map(({ day, tempoBpm }): Point => [day / WEEK_DAYS, tempoBpm]);
  const line = slopeInterval(points, ROUNDING_VARIANCE);
  if (line === null) return thin;
  return { kind: 'gain', bpmPerWeek: line.slope, lower: line.lower, upper: line.upper, days };
}

/** The fastest clean tempo of each day that has one, oldest first. */
function cleanTempos(
  { takes }: Pick<Practice, 'takes'>,
  utcOffsetMinutes: number,
): readonly DayTempo[] {
  const days = Map.groupBy(takes, ({ evidence }) => dayOf(evidence.playedAtMs, utcOffsetMinutes));
  return [...days]
    .flatMap(([day, played]): readonly DayTempo[] => {
      const clean = [...Map.groupBy(played, ({ tempoBpm }) => tempoBpm)]
        .filter(([, own]) => {
          const slots = own.reduce((sum, { evidence }) => sum + evidence.slots, 0);
          const good = own.reduce((sum, { evidence }) => sum + evidence.clean, 0);
          return slots >= EASE_SLOTS && good >= RAISE_CLEAN_RATE * slots;
        })
        .map(([tempoBpm]) => tempoBpm);
      return clean.length === 0 ? [] : [{ day, tempoBpm: Math.max(...clean) }];
    })
    .sort((one, other) => one.day - other.day);
}
