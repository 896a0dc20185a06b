/** Days, spans and lines of the journal as they are shown, by the clock of the place where something was played. */

import { counted, percent } from '../../../core/findings/index.ts';
import {
  type ChartPlayed,
  describeMinutes,
  describeTempos,
  EARLIEST_MS,
  firstDayOf,
  type JournalTake,
  LATEST_MS,
  lastDayOf,
  type Month,
  type MonthDay,
  type PracticeSession,
} from '../../../core/journal/index.ts';
import { DAY_MS } from '../../../core/progress/index.ts';
import { PLAIN } from '../../../core/words.ts';
import { withSigns } from '../../look/signs.ts';

/** The day it is by the calendar here. */
export function today(): number {
  const now = new Date(Date.now());
  return Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) / DAY_MS;
}

export const FIRST_DAY = EARLIEST_MS / DAY_MS;
export const LAST_DAY = LATEST_MS / DAY_MS - 1;

export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

/**
 * The time from one day to another, both counted, and more than a day on either side: a session over midnight is whole, and
 * the days are in it on a clock of any zone.
 */
export function spanOf(fromDay: number, toDay: number): Span {
  const within = (day: number): number => Math.min(Math.max(day * DAY_MS, EARLIEST_MS), LATEST_MS);
  return { fromMs: within(fromDay - 2), toMs: within(toDay + 3) };
}

/** All weeks that hold a day of a month. */
export function spanOfMonth(month: Month): Span {
  return spanOf(firstDayOf(month) - 6, lastDayOf(month) + 6);
}

export const EVERYTHING: Span = { fromMs: EARLIEST_MS, toMs: LATEST_MS };

const MONTH = new Intl.DateTimeFormat(undefined, {
  month: 'long',
  year: 'numeric',
  timeZone: 'UTC',
});
const DAY = new Intl.DateTimeFormat(undefined, { dateStyle: 'full', timeZone: 'UTC' });
const DATE = new Intl.DateTimeFormat(undefined, { dateStyle: 'long', timeZone: 'UTC' });
const WEEKDAY = new Intl.DateTimeFormat(undefined, { weekday: 'short', timeZone: 'UTC' });
const TIME = new Intl.DateTimeFormat(undefined, { timeStyle: 'short', timeZone: 'UTC' });
/** `6:05 PM`, of minutes since midnight. */
const timeWords = (minute: number): string => TIME.format(minute * 60_000);

/** `March 2026`, of any day in it. */
export const monthWords = (day: number): string => MONTH.format(day * DAY_MS);
/** `Saturday, March 14, 2026`. */
export const dayWords = (day: number): string => DAY.format(day * DAY_MS);
/** `March 14, 2026`. */
export const dateWords = (day: number): string => DATE.format(day * DAY_MS);
export const weekdayWords = (day: number): string => WEEKDAY.format(day * DAY_MS);

/** A day of the calendar for who cannot see it. */
export function describeDay({ day, minutes, sessions }: MonthDay): string {
  const played =
    sessions === 0
      ? 'nothing played'
      : `${describeMinutes(minutes)} in ${counted(sessions, 'session')}`;
  return `${dayWords(day)}: ${played}`;
}

/** So many minutes give a day its full tint. Own choice. */
const FULL_TINT_MINUTES = 60;

/** 0 to 1. */
export function tintOfMinutes(minutes: number): number {
  return Math.min(1, minutes / FULL_TINT_MINUTES);
}

/** `Saturday, March 14, 2026, 6:05 PM to 6:47 PM`. */
export function sessionTitle({ day, startMinute, endMinute }: PracticeSession): string {
  return `${dayWords(day)}, ${timeWords(startMinute)} to ${timeWords(endMinute)}`;
}

/** How many takes, how long was played, within how long. */
export function describeSession({ startMs, endMs, minutes, takes }: PracticeSession): string {
  const spanMinutes = (endMs - startMs) / 60_000;
  const span = describeMinutes(spanMinutes);
  const played = describeMinutes(minutes);
  // Recordings opened one after the other may be longer than the time it took to open them.
  const within = minutes >= spanMinutes || span === played ? '' : ` within ${span}`;
  return `${counted(takes.length, 'take')}, ${played} played${within}.`;
}

/** `steps, thirds in Dm at 60–66, plan side door: 93 % of 512 slots clean, 12 minutes`. */
export function describeChart(chart: ChartPlayed): string {
  const { levels, keys, plans, slots, clean, minutes } = chart;
  const tempos = describeTempos(chart);
  const others = plans.filter((plan) => plan !== PLAIN);
  const graded =
    slots === 0 ? 'not graded' : `${percent(clean / slots)} of ${counted(slots, 'slot')} clean`;
  return [
    `${levels.join(', ')} in ${keys.map(withSigns).join(', ')}`,
    tempos === '' ? '' : ` at ${tempos}`,
    others.length === 0 ? '' : `, ${others.length === 1 ? 'plan' : 'plans'} ${others.join(', ')}`,
    `: ${graded}, ${describeMinutes(minutes)}`,
  ].join('');
}

/** A take as a line of its session. */
export function describeJournalTake(take: JournalTake): string {
  const { minute, chartTitle, level, key, tempoBpm, bars, slots, clean } = take;
  const at = tempoBpm === null ? '' : ` at ${Math.round(tempoBpm)}`;
  const part = bars === null ? '' : `, bars ${bars.from} to ${bars.to}`;
  const graded = slots === 0 ? '' : `, ${clean} of ${slots} clean`;
  return `${timeWords(minute)}: ${chartTitle}, ${level}${at} in ${withSigns(key)}${part}${graded}`;
}
