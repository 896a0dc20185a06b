/** A month as a page of the calendar, with the minutes played on each day. */

import { type Month, monthOf, weeksOf } from './calendar.ts';
import type { PracticeSession } from './model.ts';

export interface MonthDay {
  readonly day: number;
  /** False for the days of other months that fill the first and the last week. */
  readonly isInMonth: boolean;
  readonly minutes: number;
  readonly sessions: number;
}

export interface MonthView {
  readonly weeks: readonly (readonly MonthDay[])[];
  /** Of the days in the month alone. */
  readonly minutes: number;
  readonly daysPractised: number;
}

/** Lays sessions out over the weeks of a month, Monday first. A session counts whole to the day it began on. */
export function monthView(sessions: readonly PracticeSession[], month: Month): MonthView {
  const byDay = Map.groupBy(sessions, ({ day }) => day);
  const weeks = weeksOf(month).map((week) =>
    week.map((day): MonthDay => {
      const own = byDay.get(day) ?? [];
      const { year, month: number } = monthOf(day);
      return {
        day,
        isInMonth: year === month.year && number === month.month,
        minutes: own.reduce((sum, { minutes }) => sum + minutes, 0),
        sessions: own.length,
      };
    }),
  );
  const inMonth = weeks.flat().filter(({ isInMonth }) => isInMonth);
  return {
    weeks,
    minutes: inMonth.reduce((sum, { minutes }) => sum + minutes, 0),
    daysPractised: inMonth.filter(({ sessions: own }) => own > 0).length,
  };
}
