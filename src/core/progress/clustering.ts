/**
 * Faults come in clusters: one stumble spoils several slots of a bar. A count of slots then scatters more from take to take
 * than slots that know nothing of each other would, and an interval that takes each slot for a witness of its own is too
 * narrow.
 *
 * How much more is the design effect: the variance there is over the variance of as many independent slots. Here it is told
 * from each bar set against itself from one time it was played to the next. That bars differ from one another is no chance and widens nothing: all of
 * them are played in every chorus. So many slots over the design effect is the effective sample size, which stands in the
 * interval in place of the slots.
 * Sources: L. Kish, Survey Sampling, 1965, section 8.2 (design effect, clusters within strata); E. L. Korn and B. I. Graubard,
 * Survey Methodology 24 (1998), 193–201 (effective sample size in the interval of a proportion, less by the square of z over t
 * where the design effect is told from few clusters); both from memory. The floor of 1 and the least evidence are own rules.
 */

import { studentPoint } from './central-points.ts';
import type { BarEvidence, TakeEvidence } from './evidence.ts';
import { type RateInterval, wilsonInterval, Z_95 } from './wilson.ts';

/** Times that bars were played, less the bars, from which clustering is told: with fewer the estimate itself is mostly chance. */
export const CLUSTERING_LEAST = 20;

interface BarSums {
  times: number;
  slots: number;
  faulty: number;
  slotsSquared: number;
  faultySquared: number;
  faultyBySlots: number;
}

/**
 * The design effect of the clean rate over takes of one form at one tempo, as it stands in an interval of 95 %: 1 (as good as
 * independent) or more. It is 1 while too little was played to tell.
 */
export function designEffectOf(takes: Clustered): number {
  return designEffectWithin([takes]);
}

type Clustered = readonly Pick<TakeEvidence, 'bars'>[];

/** The same, told within blocks of takes: what became better or worse from one block to the next is no clustering. */
export function designEffectWithin(blocks: readonly Clustered[]): number {
  let free = 0;
  let found = 0;
  let expected = 0;
  for (const takes of blocks) {
    const byBar = new Map<number, BarSums>();
    for (const { bars } of takes) for (const bar of bars) addBar(byBar, bar);
    for (const { times, slots, faulty, ...squares } of byBar.values()) {
      if (times < 2) continue;
      const { slotsSquared, faultySquared, faultyBySlots } = squares;
      const rate = faulty / slots;
      free += times - 1;
      found += faultySquared - 2 * rate * faultyBySlots + rate * rate * slotsSquared;
      // Of independent slots: the mean of `found`, with the unbiased estimate of the variance of one slot.
      expected += (slots / (slots - 1)) * rate * (1 - rate) * (slots - slotsSquared / slots);
    }
  }
  if (free < CLUSTERING_LEAST || expected === 0) return 1;
  return Math.max(1, (found / expected) * unsureness(free));
}

/** The Wilson interval of a clean rate with the effective sample size, slots over the design effect, in place of the slots. */
export function effectiveInterval(
  clean: number,
  slots: number,
  designEffect: number,
): RateInterval {
  return wilsonInterval(clean / designEffect, slots / designEffect);
}

/** By what a design effect is more in an interval for being told from so many times, less the bars. */
function unsureness(free: number): number {
  const known = unsurenessOf.get(free) ?? (studentPoint(0.95, free) / Z_95) ** 2;
  unsurenessOf.set(free, known);
  return known;
}

const unsurenessOf = new Map<number, number>();

/** A take tells the squares of its faulty slots; its slots are taken to be as many each time, as but for breaks they are. */
function addBar(
  byBar: Map<number, BarSums>,
  { bar, slots, clean, times = 1, faultySquares }: BarEvidence,
): void {
  if (slots === 0) return;
  const faulty = slots - clean;
  const sums = byBar.get(bar) ?? {
    ...{ times: 0, slots: 0, faulty: 0, slotsSquared: 0, faultySquared: 0, faultyBySlots: 0 },
  };
  byBar.set(bar, sums);
  sums.times += times;
  sums.slots += slots;
  sums.faulty += faulty;
  sums.slotsSquared += slots ** 2 / times;
  sums.faultySquared += faultySquares ?? faulty ** 2;
  sums.faultyBySlots += (faulty * slots) / times;
}
