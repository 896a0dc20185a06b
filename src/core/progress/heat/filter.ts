/** Which takes a picture is drawn from. */

import type { Level } from '../../words.ts';
import type { PlayedTake } from '../history.ts';
import { isSameKey } from '../ladder/index.ts';

/** Null lets everything pass; ranges include both ends. */
export interface TakeFilter {
  readonly chartId: string | null;
  readonly plan: string | null;
  /** As text; the same key by another name passes too. */
  readonly key: string | null;
  readonly level: Level | null;
  readonly tempoBpm: { readonly from: number; readonly to: number } | null;
  /** Ms since 1970. */
  readonly playedAtMs: { readonly from: number; readonly to: number } | null;
}

/** The takes that pass every part of the filter, in their order. */
export function filterTakes(
  takes: readonly PlayedTake[],
  filter: TakeFilter,
): readonly PlayedTake[] {
  return takes.filter(
    (take) =>
      (filter.chartId === null || take.chartId === filter.chartId) &&
      (filter.plan === null || take.plan === filter.plan) &&
      (filter.key === null || isSameKey(take.key, filter.key)) &&
      (filter.level === null || take.level === filter.level) &&
      isWithin(take.tempoBpm, filter.tempoBpm) &&
      isWithin(take.evidence.playedAtMs, filter.playedAtMs),
  );
}

function isWithin(
  value: number,
  range: { readonly from: number; readonly to: number } | null,
): boolean {
  return range === null || (value >= range.from && value <= range.to);
}
