/** What is kept of a take to judge weeks by: the counts of its report, not the report. Plain data that survives JSON. */

import { beatsPerBar, type Form } from '../chart/index.ts';
import { type Report, sumByBar } from '../grading/index.ts';
import { type ChordEvidence, chordEvidence } from './chord-evidence.ts';

/** What one take tells about a tempo. All takes of one judgement share chart, plan, level, key and tempo. */
export interface TakeEvidence {
  readonly playedAtMs: number;
  /** Whole passes through the form. */
  readonly choruses: number;
  readonly slots: number;
  readonly clean: number;
  readonly changesCounted: number;
  readonly changesOnTime: number;
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

export interface BarEvidence {
  readonly bar: number;
  readonly slots: number;
  readonly clean: number;
}

/** A change that was counted and not on time. */
export interface ChangeEvidence {
  readonly bar: number;
  readonly beat: number;
  readonly toChord: string;
}

/**
 * What a report tells about its tempo. A chorus counts when its last bar was played to the end: at `free`, where no
 * slot is owed, when it was reached. `isUndecided` is that of the read take.
 */
export function evidenceOf(
  report: Report,
  form: Form,
  playedAtMs: number,
  isUndecided = false,
): TakeEvidence {
  const { summary } = report;
  const bars = sumByBar(report.bars);
  return {
    playedAtMs,
    choruses: wholeChoruses(report, form),
    slots: summary.slots,
    clean: summary.clean,
    changesCounted: summary.changes.counted,
    changesOnTime: summary.changes.onTime,
    bars: [...bars].map(([bar, sum]) => ({ bar, ...sum })),
    lateChanges: report.changes
      .filter(({ arrival }) => arrival === 'late' || arrival === 'unproven')
      .map(({ bar, beat, toChord }) => ({ bar, beat, toChord })),
    chords: chordEvidence(report, form),
    ...(isUndecided && { isUndecided }),
  };
}

function wholeChoruses(report: Report, form: Form): number {
  const lastBar = form.bars.at(-1);
  if (lastBar === undefined) return 0;
  const owed = report.level === 'free' ? 1 : beatsPerBar(lastBar.meter) * report.slotsPerBeat;
  return report.bars.filter(({ bar, slots }) => bar === lastBar.bar && slots >= owed).length;
}
