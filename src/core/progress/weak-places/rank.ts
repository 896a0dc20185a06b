/** The places of a form that break most, from the counts of its bars alone. */

import { sumByBar } from '../../grading/index.ts';
import type { BarEvidence } from '../evidence.ts';
import { RAISE_CLEAN_RATE } from '../readiness.ts';
import { type RateInterval, wilsonInterval, zTogether } from '../wilson.ts';

export interface WeakPlace {
  /** Bars of the form, both included; two neighbours, or the only one. */
  readonly from: number;
  readonly to: number;
  readonly slots: number;
  readonly clean: number;
}

/** Evidence a place needs before it is named: a bar of eighths in 4/4. Own rule. */
const LEAST_SLOTS = 8;

export interface SurePlace extends WeakPlace {
  /** Wilson, of the clean rate there; all neighbours that were looked at lie in theirs together with 95 %. */
  readonly interval: RateInterval;
}

/**
 * Pairs of neighbouring bars that broke at all, the surest first: by the upper bound of the interval of their clean rate, then
 * the rate, then the order of the form. No bar stands in two places: of overlapping pairs the weaker is kept.
 * In: bars as they were played, the same bar as often as it was.
 */
export function rankPlaces(bars: readonly BarEvidence[]): readonly SurePlace[] {
  const places = neighbours(bars);
  const z = zTogether(places.length);
  const ranked = places
    .filter(isBroken)
    .map((place) => ({ ...place, interval: wilsonInterval(place.clean, place.slots, z) }))
    .sort(byWeakness);
  const kept: SurePlace[] = [];
  for (const place of ranked) {
    if (kept.every(({ from, to }) => place.to < from || place.from > to)) kept.push(place);
  }
  return kept;
}

/**
 * Whether the whole interval lies under the clean rate a raise needs. Of simulated players equally strong in all bars 6 in 100
 * are told so at a true rate of just 0.90, 1 or 2 at 0.92; where slots cluster, several times as many.
 */
export function isSurelyWeak({ interval }: SurePlace): boolean {
  return interval.upper < RAISE_CLEAN_RATE;
}

/** The first of the ranked places; null when nothing was played or every slot was clean. */
export function weakestPlace(bars: readonly BarEvidence[]): WeakPlace | null {
  const [place] = rankPlaces(bars);
  if (place === undefined) return null;
  const { from, to, slots, clean } = place;
  return { from, to, slots, clean };
}

function neighbours(bars: readonly BarEvidence[]): readonly WeakPlace[] {
  const sums = sumByBar(bars);
  const played = [...sums.keys()].sort((one, other) => one - other);
  const firsts = played.filter((bar) => sums.has(bar + 1) || !sums.has(bar - 1));
  return firsts.map((bar): WeakPlace => {
    const own = sums.get(bar) ?? { slots: 0, clean: 0 };
    const next = sums.get(bar + 1);
    return {
      from: bar,
      to: next === undefined ? bar : bar + 1,
      slots: own.slots + (next?.slots ?? 0),
      clean: own.clean + (next?.clean ?? 0),
    };
  });
}

function isBroken({ slots, clean }: WeakPlace): boolean {
  return slots >= LEAST_SLOTS && clean < slots;
}

function byWeakness(one: SurePlace, other: SurePlace): number {
  return (
    one.interval.upper - other.interval.upper ||
    one.clean / one.slots - other.clean / other.slots ||
    one.from - other.from
  );
}
