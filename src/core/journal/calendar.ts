/** Days by the calendar: Gregorian years and months for the days of `days.ts`. */

import { DAY_MS, weekOf } from '../progress/index.ts';

export interface Month {
  readonly year: number;
  /** 1 to 12. */
  readonly month: number;
}

const MONTHS_OF_YEAR = 12;

/** The month a day is in. */
export function monthOf(day: number): Month {
  const date = new Date(day * DAY_MS);
  return { year: date.getUTCFullYear(), month: date.getUTCMonth() + 1 };
}

/** The first day of a month. */
export function firstDayOf({ year, month }: Month): number {
  return Math.round(Date.UTC(year, month - 1, 1) / DAY_MS);
}

/** The month so many months later; earlier for a negative count. */
export function monthsLater({ year, month }: Month, months: number): Month {
  const count = year * MONTHS_OF_YEAR + (month - 1) + months;
  const nextYear = Math.floor(count / MONTHS_OF_YEAR);
  return { year: nextYear, month: count - nextYear * MONTHS_OF_YEAR + 1 };
}

/** The last day of a month. */
export function lastDayOf(month: Month): number {
  return firstDayOf(monthsLater(month, 1)) - 1;
}

/** The same date so many months later, or the last of a month that is too short for it. */
export function sameDateLater(day: number, months: number): number {
  const month = monthOf(day);
  const next = monthsLater(month, months);
  return Math.min(firstDayOf(next) + day - firstDayOf(month), lastDayOf(next));
}

/** The weeks that hold a month, Monday to Sunday, each as its seven days. */
export function weeksOf(month: Month): readonly (readonly number[])[] {
  const weeks: number[][] = [];
  for (let monday = weekOf(firstDayOf(month)); monday <= lastDayOf(month); monday += 7) {
    weeks.push(Array.from({ length: 7 }, (_, index) => monday + index));
  }
  return weeks;
}

/** `2026-03-14`. Source: ISO 8601, calendar date. */
export function formatDay(day: number): string {
  return new Date(day * DAY_MS).toISOString().slice(0, 10);
}

/** The inverse of `formatDay`; null for what is no date of the calendar. */
export function parseDay(text: string): number | null {
  if (!/^\d{4}-\d\d-\d\d$/.test(text)) return null;
  const atMs = Date.parse(`${text}T00:00:00Z`);
  if (Number.isNaN(atMs)) return null;
  const day = Math.round(atMs / DAY_MS);
  // A parser may take 30 February for 2 March.
  return formatDay(day) === text ? day : null;
}
