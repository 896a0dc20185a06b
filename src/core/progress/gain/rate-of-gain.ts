/**
 * How fast the tempo rises at which a player is equally clean. The clean rate of every day and tempo is laid against both: a
 * faster tempo costs clean slots, a week of practice brings some, and so many beats per minute as a week brings is the gain.
 * Which tempo was chosen does not matter then: who starts far too slow and soon plays faster has not gained by that.
 * Own rule, as are the counts below.
 */

import { studentPoint } from '../central-points.ts';
import { EASE_SLOTS } from '../readiness.ts';
import { type Counts, fitLogistic } from './logistic-fit.ts';
import { ratioInterval } from './ratio-interval.ts';

/** Eight weeks: what is older tells how it was, not how it goes. */
export const GAIN_WINDOW_DAYS = 56;
export const GAIN_LEAST_DAYS = 5;
export const GAIN_LEAST_SPAN_DAYS = 7;

const WEEK_DAYS = 7;
/** Tempo in a unit of about its scatter, for the sums alone. */
const TEMPO_UNIT_BPM = 10;
const SHARE = 0.95;

export type RateOfGain =
  | {
      readonly kind: 'tooThin';
      /** Further days of practice that are needed. */
      readonly missingDays: number;
      /** Days by which the first and the last lie too close. */
      readonly missingSpanDays: number;
    }
  /** Whether a faster tempo costs anything does not show: the tempos are too much alike, or all clean. */
  | { readonly kind: 'oneTempo' }
  | {
      readonly kind: 'gain';
      readonly bpmPerWeek: number;
      /**
       * Bounds of the 95 % interval. They hold where days scatter independently; of simulated players half of whose form lasts
       * into the next day of practice they cover 8 in 10.
       */
      readonly lower: number;
      readonly upper: number;
      /** Days it was told from. */
      readonly days: number;
    };

/** What was played on one day at one tempo. */
export interface DayTempo {
  readonly day: number;
  readonly tempoBpm: number;
  readonly slots: number;
  readonly clean: number;
}

/** The rate of gain over the last eight weeks up to `today`, or what is missing to tell it. In any order; a day may stand in several. */
export function rateOfGain(takes: readonly DayTempo[], today: number): RateOfGain {
  const recent = takes.filter(({ day }) => day > today - GAIN_WINDOW_DAYS && day <= today);
  const played = summed(recent).filter(({ slots }) => slots >= EASE_SLOTS);
  const days = [...new Set(played.map(({ day }) => day))].sort((one, other) => one - other);
  const spanDays = (days.at(-1) ?? 0) - (days[0] ?? 0);
  const missingDays = Math.max(0, GAIN_LEAST_DAYS - days.length);
  const missingSpanDays = Math.max(0, GAIN_LEAST_SPAN_DAYS - spanDays);
  if (missingDays > 0 || missingSpanDays > 0)
    return { kind: 'tooThin', missingDays, missingSpanDays };
  const line = gainOf(played);
  if (line === null) return { kind: 'oneTempo' };
  const { ratio, lower, upper } = line;
  return { kind: 'gain', bpmPerWeek: ratio, lower, upper, days: days.length };
}

function summed(takes: readonly DayTempo[]): readonly DayTempo[] {
  const sums = Map.groupBy(takes, ({ day, tempoBpm }) => `${day} ${tempoBpm}`);
  return [...sums.values()].flatMap((own) =>
    own.slice(0, 1).map(({ day, tempoBpm }): DayTempo => {
      const slots = own.reduce((sum, take) => sum + take.slots, 0);
      const clean = own.reduce((sum, take) => sum + take.clean, 0);
      return { day, tempoBpm, slots, clean };
    }),
  );
}

/** What a week brings over what a beat per minute costs, both in log-odds of a clean slot. */
function gainOf(played: readonly DayTempo[]) {
  const middle = (count: (one: DayTempo) => number): number =>
    played.reduce((sum, one) => sum + count(one), 0) / played.length;
  const [middleBpm, middleDay] = [middle(({ tempoBpm }) => tempoBpm), middle(({ day }) => day)];
  const fit = fitLogistic(
    played.map(({ day, tempoBpm, slots, clean }): Counts => {
      const at = [(middleBpm - tempoBpm) / TEMPO_UNIT_BPM, (day - middleDay) / WEEK_DAYS];
      return { at, slots, clean, group: day };
    }),
  );
  if (fit === null) return null;
  const [, slower = 0, later = 0] = fit.coefficients;
  const [, [, ofSlower = 0, together = 0] = [], [, , ofLater = 0] = []] = fit.covariances;
  if (slower <= 0) return null;
  const unit = TEMPO_UNIT_BPM;
  return ratioInterval(
    { value: later, variance: ofLater },
    { value: slower / unit, variance: ofSlower / unit ** 2 },
    together / unit,
    studentPoint(SHARE, fit.freedom),
  );
}
