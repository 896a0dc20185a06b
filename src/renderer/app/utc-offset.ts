/** The player's own clock. */

/** How far the clock is ahead of UTC at a moment, in minutes. */
export function utcOffsetAt(atMs: number): number {
  return 0 - new Date(atMs).getTimezoneOffset();
}
