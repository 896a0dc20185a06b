/** How clean each bar of the form was. */

import type { ReportBar } from '../grading/index.ts';

/** Clean share of each bar of the form over all choruses; bars not played are not in it. */
export function cleanRates(bars: readonly ReportBar[]): ReadonlyMap<number, number> {
  const sums = new Map<number, { slots: number; clean: number }>();
  for (const { bar, slots, clean } of bars) {
    const sum = sums.get(bar) ?? { slots: 0, clean: 0 };
    sums.set(bar, { slots: sum.slots + slots, clean: sum.clean + clean });
  }
  return new Map([...sums].map(([bar, { slots, clean }]) => [bar, clean / slots]));
}
