/** Meters: which ones a chart may use, and how their bars are counted. */

import type { Meter } from './model.ts';

/**
 * Every meter a chart may use: quarters in twos to sevens, and the three compound meters.
 * Source: `chart-text.md` and `grading.md`, "Time and grid"; 2/4, 6/4, 7/4 and 9/8 by the same rule.
 */
export const METERS: readonly Meter[] = [
  { count: 2, unit: 4 },
  { count: 3, unit: 4 },
  { count: 4, unit: 4 },
  { count: 5, unit: 4 },
  { count: 6, unit: 4 },
  { count: 7, unit: 4 },
  { count: 6, unit: 8 },
  { count: 9, unit: 8 },
  { count: 12, unit: 8 },
];

/** Reads `4/4`, `12/8`; white space around is ignored. Null for anything that is not one of `METERS`. */
export function parseMeter(text: string): Meter | null {
  const wanted = text.trim();
  return METERS.find((meter) => formatMeter(meter) === wanted) ?? null;
}

/** Writes `4/4`; the inverse of `parseMeter`. */
export function formatMeter(meter: Meter): string {
  return `${meter.count}/${meter.unit}`;
}

/** True for 6/8, 9/8 and 12/8, which beat in dotted quarters. */
export function isCompound(meter: Meter): boolean {
  return meter.unit === 8;
}

/** Beats in a bar: 4 in 4/4, 2 in 6/8, 4 in 12/8. */
export function beatsPerBar(meter: Meter): number {
  return isCompound(meter) ? meter.count / 3 : meter.count;
}

/** Quarter notes in one beat: 1, or 1.5 in a compound meter. */
export function quartersPerBeat(meter: Meter): 1 | 1.5 {
  return isCompound(meter) ? 1.5 : 1;
}

/** True when both are the same meter. */
export function isSameMeter(one: Meter, other: Meter): boolean {
  return one.count === other.count && one.unit === other.unit;
}
