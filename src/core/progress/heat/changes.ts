/** Which changes come late, and by how much. Takes of one chart, plan and key, newest first: changes are told by place and chord. */

import { LATENESS, type Lateness } from '../../words.ts';
import type { ArrivalCounts } from '../chord-evidence.ts';
import type { ChangeEvidence } from '../evidence.ts';
import type { PlayedTake } from '../history.ts';
import { type AddHits, type HeatMatrix, heatMatrix } from './matrix.ts';

/** Changes × lateness: arrivals of that kind, of all counted ones at the place. In the order of the form. */
export function changesByLateness(
  takes: readonly PlayedTake[],
): HeatMatrix<ChangeEvidence, Lateness> {
  const changes = new Map<string, ChangeEvidence>();
  for (const { bar, beat, chord, arrivals } of takes.flatMap(
    ({ evidence }) => evidence.chords ?? [],
  )) {
    const change = { bar, beat, toChord: chord };
    if (arrivals !== null) changes.set(nameOf(change), change);
  }
  const count = (add: AddHits): void => {
    for (const take of takes) {
      for (const { bar, beat, chord, arrivals } of take.evidence.chords ?? []) {
        if (arrivals === null) continue;
        const row = nameOf({ bar, beat, toChord: chord });
        const counts = countLateness(arrivals);
        const of = LATENESS.reduce((sum, lateness) => sum + counts[lateness], 0);
        for (const lateness of LATENESS) add(take, row, lateness, counts[lateness], of);
      }
    }
  };
  const values = [...changes.values()].sort(
    (one, other) => one.bar - other.bar || one.beat - other.beat,
  );
  return heatMatrix(
    { values, nameOf },
    { values: LATENESS, nameOf: (lateness) => lateness },
    count,
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
