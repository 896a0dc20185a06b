/**
 * Days as the player lives them. A day is a whole number: days since 1 January 1970 on the calendar of the place where something was
 * played. A take carries its own.
 */

export const DAY_MS = 86_400_000;

/** 1 January 1970 was a Thursday. */
const THURSDAY = 3;

/** The Monday of a day's week. Source: ISO 8601, the week begins on Monday. */
export function weekOf(day: number): number {
  return day - ((((day + THURSDAY) % 7) + 7) % 7);
}
