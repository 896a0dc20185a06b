/** Which takes a picture is drawn from. */

import type { Level } from '../../words.ts';
import { isSameKey } from '../ladder/index.ts';
import type { PracticeName } from '../practice-name.ts';

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

/** Whether any take of a practice can pass. */
export function isOfFilter(filter: TakeFilter, name: PracticeName): boolean {
  return (
    (filter.chartId === null || name.chartId === filter.chartId) &&
    (filter.plan === null || name.plan === filter.plan) &&
    (filter.level === null || name.level === filter.level) &&
    (filter.key === null || isSameKey(name.key, filter.key))
  );
}
