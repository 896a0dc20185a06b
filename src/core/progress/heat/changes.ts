/** Which changes come late, and by how much. Takes of one chart, plan and key, newest first: changes are told by place and chord. */

import type { ArrivalCounts } from '../chord-evidence.ts';
import type { ChangeEvidence } from '../evidence.ts';
import type { PlayedTake } from '../history.ts';
import { type HeatEntry, type HeatMatrix, heatMatrix } from './matrix.ts';

/** On time, late by so many slots, or never proven. */
export const LATENESS = ['onTime', 'by1', 'by2', 'by3', 'byMore', 'unproven'] as const;
export type Lateness = (typeof LATENESS)[number];

/** Changes × lateness: arrivals of that kind, of all counted ones at the place. In the order of the form. */
export function changesByLateness(
  takes: readonly PlayedTake[],
): HeatMatrix<ChangeEvidence, Lateness> {
  const changes = new Map<string, ChangeEvidence>();
  const entries = takes.flatMap((take) =>
    (take.evidence.chords ?? []).flatMap(({ bar, beat, chord, arrivals }) => {
      if (arrivals === null) return [];
      const change = { bar, beat, toChord: chord };
      changes.set(nameOf(change), change);
      const counts = countLateness(arrivals);
      const of = LATENESS.reduce((sum, lateness) => sum + counts[lateness], 0);
      return LATENESS.map((column): HeatEntry => {
        return { take, row: nameOf(change), column, hits: counts[column], of };
      });
    }),
  );
  const values = [...changes.values()].sort(
    (one, other) => one.bar - other.bar || one.beat - other.beat,
  );
  return heatMatrix(
    { values, nameOf },
    { values: LATENESS, nameOf: (lateness) => lateness },
    entries,
    takes.filter(({ evidence }) => evidence.chords === undefined),
  );
}

function nameOf({ bar, beat, toChord }: ChangeEvidence): string {
  return `${bar}:${beat} ${toChord}`;
}

function countLateness({
  onTime,
  unproven,
  lateBySlots,
}: ArrivalCounts): Readonly<Record<Lateness, number>> {
  const late = (isOf: (bySlots: number) => boolean): number => lateBySlots.filter(isOf).length;
  return {
    onTime,
    by1: late((bySlots) => bySlots <= 1),
    by2: late((bySlots) => bySlots === 2),
    by3: late((bySlots) => bySlots === 3),
    byMore: late((bySlots) => bySlots > 3),
    unproven,
  };
}
