/** What is kept of a take to judge weeks by: the counts of its report, not the report. Plain data that survives JSON. */

import type { Form } from '../chart/index.ts';
import type { Report } from '../grading/index.ts';
import { changesLeftOut } from './changes-left-out.ts';
import { type ChordEvidence, chordEvidence } from './chord-evidence.ts';
import { wholeChoruses } from './whole-choruses.ts';

/** What one take tells about a tempo. All takes of one judgement share chart, plan, level, key and tempo. */
export interface TakeEvidence {
  readonly playedAtMs: number;
  /** Whole passes through the form. */
  readonly choruses: number;
  readonly slots: number;
  readonly clean: number;
  readonly changesCounted: number;
  readonly changesOnTime: number;
  /** Those neither on time nor late: common tones only. 0 in takes kept before it was told. */
  readonly changesUnproven: number;
  /**
   * Of the unproven ones those that tell nothing of the player, and are left out of the share on time: at `leaps` and `free` all; at
   * `steps` and `thirds` where the new palette adds no note, or no clean line at that level could prove it.
   */
  readonly changesLeftOut: number;
  readonly bars: readonly BarEvidence[];
  readonly lateChanges: readonly ChangeEvidence[];
  /**
   * The take fits another reading so much better that these counts may not be its own, and the player has not said which holds:
   * it counts for nothing in readiness. Absent: decided, or nothing to decide.
   */
  readonly isUndecided?: boolean | undefined;
  /** Absent from takes kept before it was told. */
  readonly chords?: readonly ChordEvidence[] | undefined;
}

/** One bar of the form over all choruses of a take. */
export interface BarEvidence {
  readonly bar: number;
  readonly slots: number;
  readonly clean: number;
  /**
   * How often it was played, and the squares of its faulty slots of each time, summed: how the faults lie in clusters is told from
   * them. Absent from takes kept before they were told, which are taken to have played it once.
   */
  readonly times?: number | undefined;
  readonly faultySquares?: number | undefined;
}

/** A change that was not on time and is not left out of the share. */
export interface ChangeEvidence {
  readonly bar: number;
  readonly beat: number;
  readonly toChord: string;
}

/**
 * What a report tells about its tempo. `isUndecided` is that of the read take. Sources: `grading.md`, "Ready for a faster tempo" for
 * whole choruses and for the changes that are left out.
 */
export function evidenceOf(
  report: Report,
  form: Form,
  playedAtMs: number,
  isUndecided = false,
): TakeEvidence {
  const { summary } = report;
  const isLeftOut = changesLeftOut(report, form);
  const missed = report.changes.filter(
    ({ arrival }) => arrival === 'late' || arrival === 'unproven',
  );
  const against = missed.filter((change) => !isLeftOut(change));
  return {
    playedAtMs,
    choruses: wholeChoruses(report, form),
    slots: summary.slots,
    clean: summary.clean,
    changesCounted: summary.changes.counted,
    changesOnTime: summary.changes.onTime,
    changesUnproven: summary.changes.unproven,
    changesLeftOut: missed.length - against.length,
    bars: barEvidence(report.bars),
    lateChanges: against.map(({ bar, beat, toChord }) => ({ bar, beat, toChord })),
    chords: chordEvidence(report, form),
    ...(isUndecided && { isUndecided }),
  };
}

/** Bars in the order they were first met; each time one was played is one of `times`. */
function barEvidence(bars: Report['bars']): readonly BarEvidence[] {
  return [...Map.groupBy(bars, ({ bar }) => bar)].map(([bar, played]) => ({
    bar,
    slots: sumOf(played, ({ slots }) => slots),
    clean: sumOf(played, ({ clean }) => clean),
    times: played.filter(({ slots }) => slots > 0).length,
    faultySquares: sumOf(played, ({ slots, clean }) => (slots - clean) ** 2),
  }));
}

function sumOf<Value>(values: readonly Value[], of: (value: Value) => number): number {
  return values.reduce((sum, value) => sum + of(value), 0);
}
