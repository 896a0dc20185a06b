/** How clean each bar of the form was. */

import { type ReportBar, sumByBar } from '../grading/index.ts';

/** Clean share of each bar of the form over all choruses; bars not played are not in it. */
export function cleanRates(bars: readonly ReportBar[]): ReadonlyMap<number, number> {
  const sums = sumByBar(bars);
  return new Map([...sums].map(([bar, { slots, clean }]) => [bar, clean / slots]));
}
