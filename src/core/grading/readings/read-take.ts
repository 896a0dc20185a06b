/** A take graded and read: the one door for whoever shows a take, or keeps what it came to. */

import { gradeTake } from '../grader.ts';
import type { Report } from '../report.ts';
import { applyReading, type Graded } from './apply-reading.ts';
import { findReadings } from './find-readings.ts';
import { layGround } from './ground.ts';
import { isDoubting, type ReadingDecision } from './model.ts';
import { unjudgedBefore } from './unjudged-before.ts';

/** A take as it counts: what it was graded with, and the report on that. */
export interface ReadTake extends Graded {
  readonly report: Report;
  /**
   * Whether its first reading is one that puts the counts in doubt and nothing was decided yet: the take then counts for nothing in
   * readiness.
   */
  readonly isUndecided: boolean;
}

/**
 * Grades a take, looks for other readings of it, and grades by the one that was taken. In: what it was played with, and what the
 * player said to its first reading (null: nothing yet). Out: the report with its readings; after a taken one the report is that of
 * the reading and has none itself, and form, take and settings are those it was made with, so that whatever is drawn or
 * heard beside the report is to be taken from here. The take is graded at most eight times. Whether it can be graded at all is to be
 * asked before (`isGradable`). Source: `grading.md`, "Other readings".
 */
export function readTake(played: Graded, decision: ReadingDecision | null): ReadTake {
  if (decision?.choice === 'taken') return readBy(played, decision);
  const { form, take, settings } = played;
  const base = gradeTake(form, take, settings);
  const { readings, steady } = findReadings(layGround(form, take, settings, base));
  const timing = {
    ...base.summary.timing,
    steadySwing: steady.swing,
    steadyOffsetMs: steady.offsetMs,
  };
  const report = { ...base, readings, summary: { ...base.summary, timing } };
  const [first] = readings;
  return {
    ...{ form, take, settings, report },
    isUndecided: decision === null && first !== undefined && isDoubting(first),
  };
}

function readBy(played: Graded, { reading }: ReadingDecision): ReadTake {
  const { form, take, settings } = applyReading(played, reading);
  const unjudged = reading.kind === 'start' ? unjudgedBefore(form, take, settings, reading) : [];
  const report = gradeTake(form, { ...take, breaks: [...unjudged, ...take.breaks] }, settings);
  return {
    ...{ form, take, settings },
    report: { ...report, breaks: take.breaks },
    isUndecided: false,
  };
}
