/** The place of a form that broke most, and how it is practised alone. */

import type { BarEvidence } from './evidence.ts';
import { easedTempoBpm } from './readiness.ts';

export interface WeakPlace {
  /** Bars of the form, both included; two neighbours, or the only one. */
  readonly from: number;
  readonly to: number;
  readonly slots: number;
  readonly clean: number;
}

/** Evidence a place needs before it is named: a bar of eighths in 4/4. Own rule. */
const LEAST_SLOTS = 8;

/**
 * The two neighbouring bars with the lowest clean rate, the earlier ones in a tie; null when nothing was played or every
 * slot was clean. In: bars as they were played, the same bar as often as it was.
 */
export function weakestPlace(bars: readonly BarEvidence[]): WeakPlace | null {
  const sums = new Map<number, { slots: number; clean: number }>();
  for (const { bar, slots, clean } of bars) {
    const sum = sums.get(bar) ?? { slots: 0, clean: 0 };
    sums.set(bar, { slots: sum.slots + slots, clean: sum.clean + clean });
  }
  const played = [...sums.keys()].sort((one, other) => one - other);
  const firsts = played.filter((bar) => sums.has(bar + 1) || !sums.has(bar - 1));
  const places = firsts.map((bar): WeakPlace => {
    const own = sums.get(bar) ?? { slots: 0, clean: 0 };
    const next = sums.get(bar + 1);
    return {
      from: bar,
      to: next === undefined ? bar : bar + 1,
      slots: own.slots + (next?.slots ?? 0),
      clean: own.clean + (next?.clean ?? 0),
    };
  });
  const broken = places.filter(({ slots, clean }) => slots >= LEAST_SLOTS && clean < slots);
  const rate = ({ slots, clean }: WeakPlace): number => clean / slots;
  return broken.reduce<WeakPlace | null>(
    (weakest, place) => (weakest === null || rate(place) < rate(weakest) ? place : weakest),
    null,
  );
}

/** The tempo a weak place is practised at, alone: one step of ease below. Source: `grading.md`, `ease`. */
export function drillTempoBpm(tempoBpm: number): number {
  return easedTempoBpm(tempoBpm);
}
