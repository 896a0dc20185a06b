/** What became of one practice in a span of days, told from the short facts of its takes alone. */

import { slotsOf } from './charts-played.ts';
import type { JournalTake } from './model.ts';

export type PlayedInSpan =
  /** The whole form, at the tempo of the first take and at that of the last. */
  | {
      readonly kind: 'whole';
      readonly firstBpm: number;
      readonly lastBpm: number;
      readonly slots: number;
      readonly clean: number;
    }
  /** Only some bars were played; those, in order. */
  | { readonly kind: 'parts'; readonly bars: readonly NonNullable<JournalTake['bars']>[] }
  | { readonly kind: 'ungraded' };

/** Of takes of one chart, plan, key and level, in whatever order. */
export function playedInSpan(takes: readonly JournalTake[]): PlayedInSpan {
  const inOrder = takes.toSorted((one, other) => one.startedAtMs - other.startedAtMs);
  const whole = inOrder.filter(isWhole);
  const [first] = whole;
  const last = whole.at(-1);
  if (first === undefined || last === undefined) return withoutWhole(inOrder);
  return { kind: 'whole', firstBpm: first.tempoBpm, lastBpm: last.tempoBpm, ...slotsOf(whole) };
}

function isWhole(take: JournalTake): take is JournalTake & { readonly tempoBpm: number } {
  return take.bars === null && take.tempoBpm !== null && take.slots > 0;
}

function withoutWhole(takes: readonly JournalTake[]): PlayedInSpan {
  const bars = new Map(
    takes.flatMap(({ bars: own }) => (own === null ? [] : [[`${own.from} ${own.to}`, own]])),
  );
  if (bars.size === 0) return { kind: 'ungraded' };
  return {
    kind: 'parts',
    bars: [...bars.values()].sort((one, other) => one.from - other.from || one.to - other.to),
  };
}
