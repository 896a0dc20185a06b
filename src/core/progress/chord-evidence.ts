/** What a take tells about each chord of its form: its slots, their faults, and how the change into it arrived. */

import type { Form } from '../chart/index.ts';
import type { Report, ReportChange, ReportSlot } from '../grading/index.ts';
import type { Fault } from '../words.ts';

/** How the counted changes into one chord arrived, over all choruses of a take. */
export interface ArrivalCounts {
  readonly onTime: number;
  readonly unproven: number;
  /** By how many slots each late one was late, in the order they were played. */
  readonly lateBySlots: readonly number[];
}

/** One chord at its place in the form, over all choruses of a take. */
export interface ChordEvidence {
  readonly bar: number;
  /** The beat it begins on, from 1. */
  readonly beat: number;
  /** As written, in the key and plan of the take; `N.C.` where there is none. */
  readonly chord: string;
  readonly slots: number;
  readonly clean: number;
  /** Slots that carry a fault; one slot may carry several. Faults that never came are left out. */
  readonly faults: Readonly<Partial<Record<Fault, number>>>;
  /** Null where no change was counted. */
  readonly arrivals: ArrivalCounts | null;
}

/** The chords that were reached, in the order of the form. */
export function chordEvidence(report: Report, form: Form): readonly ChordEvidence[] {
  const judged = report.slots.filter((slot) => slot.judged);
  const slots = Map.groupBy(judged, (slot) => placeOf(slot.bar, chordBeat(form, slot)));
  const changes = Map.groupBy(
    report.changes.filter(({ arrival }) => arrival !== 'unchanged' && arrival !== 'unjudged'),
    ({ bar, beat }) => placeOf(bar, beat),
  );
  return form.bars.flatMap(({ bar, chords }) =>
    chords.flatMap(({ beat, symbol }): readonly ChordEvidence[] => {
      const own = slots.get(placeOf(bar, beat)) ?? [];
      const arrived = changes.get(placeOf(bar, beat)) ?? [];
      if (own.length === 0 && arrived.length === 0) return [];
      return [
        {
          ...{ bar, beat, chord: symbol?.text ?? NO_CHORD },
          slots: own.length,
          clean: own.filter(({ faults }) => faults.length === 0).length,
          faults: countFaults(own),
          arrivals: countArrivals(arrived),
        },
      ];
    }),
  );
}

const NO_CHORD = 'N.C.';

/** Bars and beats in one number; no bar has this many beats. */
const BEATS_LIMIT = 1000;

function placeOf(bar: number, beat: number): number {
  return bar * BEATS_LIMIT + beat;
}

/** The beat on which the chord in force at a slot begins; forms are of a few dozen bars, numbered in order. */
function chordBeat(form: Form, { bar, beat }: ReportSlot): number {
  const first = form.bars[0]?.bar ?? 1;
  const chords = form.bars[bar - first]?.chords ?? [];
  return chords.findLast((chord) => chord.beat <= beat)?.beat ?? 1;
}

function countFaults(slots: readonly ReportSlot[]): ChordEvidence['faults'] {
  const counts: Partial<Record<Fault, number>> = {};
  for (const fault of slots.flatMap(({ faults }) => faults)) {
    counts[fault] = (counts[fault] ?? 0) + 1;
  }
  return counts;
}

function countArrivals(changes: readonly ReportChange[]): ArrivalCounts | null {
  if (changes.length === 0) return null;
  const having = (arrival: ReportChange['arrival']): readonly ReportChange[] =>
    changes.filter((change) => change.arrival === arrival);
  return {
    onTime: having('onTime').length,
    unproven: having('unproven').length,
    lateBySlots: having('late').flatMap(({ bySlots }) => bySlots ?? []),
  };
}
