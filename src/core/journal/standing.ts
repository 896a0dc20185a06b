/** At which tempo a practice stands, and whether it rose, told from the short facts of takes alone. */

import { RAISE_CLEAN_RATE, RAISE_SLOTS } from '../progress/index.ts';
import { slotsOf } from './charts-played.ts';
import type { JournalTake } from './model.ts';

/**
 * A tempo stands when its takes of the whole form have the slots and the clean rate that a raise asks for, all of them
 * summed (`grading.md`, "Ready for a faster tempo"). Changes and single bars are not looked at, so this is less than `holds`.
 */
export type Standing =
  | { readonly kind: 'rose' | 'fell'; readonly fromBpm: number; readonly toBpm: number }
  | { readonly kind: 'stands'; readonly tempoBpm: number }
  /** No tempo stands: the one played last, and how it went. */
  | {
      readonly kind: 'notYet';
      readonly tempoBpm: number;
      readonly slots: number;
      readonly clean: number;
    }
  /** Only some bars were played; those, in order. */
  | { readonly kind: 'parts'; readonly bars: readonly NonNullable<JournalTake['bars']>[] }
  | { readonly kind: 'ungraded' };

/** Where takes of one chart, plan, key and level lead, from the first tempo that stood to the fastest that stands in the end. */
export function standingOf(takes: readonly JournalTake[]): Standing {
  const inOrder = takes.toSorted((one, other) => one.startedAtMs - other.startedAtMs);
  const sums = new Map<number, { readonly slots: number; readonly clean: number }>();
  let firstBpm: number | null = null;
  let last: JournalTake | null = null;
  for (const take of inOrder) {
    if (!isWhole(take)) continue;
    last = take;
    const { tempoBpm } = take;
    const sum = slotsOf([take]);
    const before = sums.get(tempoBpm) ?? { slots: 0, clean: 0 };
    const now = { slots: before.slots + sum.slots, clean: before.clean + sum.clean };
    sums.set(tempoBpm, now);
    if (firstBpm === null && stands(now)) firstBpm = tempoBpm;
  }
  if (last === null) return withoutWhole(inOrder);
  const standing = [...sums].filter(([, sum]) => stands(sum)).map(([tempoBpm]) => tempoBpm);
  if (firstBpm === null || standing.length === 0) {
    const tempoBpm = last.tempoBpm ?? 0;
    return { kind: 'notYet', tempoBpm, ...(sums.get(tempoBpm) ?? { slots: 0, clean: 0 }) };
  }
  const toBpm = standing.reduce((most, tempoBpm) => Math.max(most, tempoBpm));
  if (toBpm === firstBpm) return { kind: 'stands', tempoBpm: toBpm };
  return { kind: toBpm > firstBpm ? 'rose' : 'fell', fromBpm: firstBpm, toBpm };
}

function isWhole(take: JournalTake): take is JournalTake & { readonly tempoBpm: number } {
  return take.bars === null && take.tempoBpm !== null && take.slots > 0;
}

function stands({ slots, clean }: { readonly slots: number; readonly clean: number }): boolean {
  return slots >= RAISE_SLOTS && clean >= RAISE_CLEAN_RATE * slots;
}

function withoutWhole(takes: readonly JournalTake[]): Standing {
  const bars = new Map(
    takes.flatMap(({ bars: own }) => (own === null ? [] : [[`${own.from} ${own.to}`, own]])),
  );
  if (bars.size === 0) return { kind: 'ungraded' };
  return {
    kind: 'parts',
    bars: [...bars.values()].sort((one, other) => one.from - other.from || one.to - other.to),
  };
}
