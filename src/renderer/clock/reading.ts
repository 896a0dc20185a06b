/** What is known of two clocks: pairs of their times, and a straight line through them. */

/** One moment on both clocks, ms: what was heard, on the audio clock, at a time of the page. */
export interface Reading {
  readonly pageMs: number;
  readonly heardMs: number;
}

/**
 * How far the time heard lies before or behind page time: `offsetMs` at page time `atMs`, growing by `slope` ms in each ms.
 * The difference is kept, not the time itself: the numbers stay small, and exact.
 */
export interface ClockLine {
  readonly atMs: number;
  readonly offsetMs: number;
  readonly slope: number;
}

export function offsetOf({ pageMs, heardMs }: Reading): number {
  return heardMs - pageMs;
}

export function offsetAt({ atMs, offsetMs, slope }: ClockLine, pageMs: number): number {
  return offsetMs + slope * (pageMs - atMs);
}

/** The time heard at a time of the page, ms. */
export function heardAt(line: ClockLine, pageMs: number): number {
  return pageMs + offsetAt(line, pageMs);
}

/** The time of the page at which a time is heard, ms: the inverse of `heardAt`. */
export function pageAt({ atMs, offsetMs, slope }: ClockLine, heardMs: number): number {
  return atMs + (heardMs - offsetMs - atMs) / (1 + slope);
}
