/**
 * Days as the player lives them. A day is a whole number: days since 1 January 1970 on the player's own calendar.
 * `utcOffsetMinutes` is how far the player's clock is ahead of UTC (Berlin in winter: 60; New York: −300). One offset
 * serves a whole history: after a change to summer time a take within an hour of midnight may count to the day beside.
 */

export const DAY_MS = 86_400_000;

const MINUTE_MS = 60_000;
/** 1 January 1970 was a Thursday. */
const THURSDAY = 3;

/** The day a moment falls on. */
export function dayOf(atMs: number, utcOffsetMinutes: number): number {
  return Math.floor((atMs + utcOffsetMinutes * MINUTE_MS) / DAY_MS);
}

/** The moment a day begins, in ms since 1970; the inverse of `dayOf`. */
export function dayStartMs(day: number, utcOffsetMinutes: number): number {
  return day * DAY_MS - utcOffsetMinutes * MINUTE_MS;
}

/** The Monday of a day's week. Source: ISO 8601, the week begins on Monday. */
export function weekOf(day: number): number {
  return day - ((((day + THURSDAY) % 7) + 7) % 7);
}
