/** The figures of a take, from what is stored of it: every figure the program keeps is made here. */

import {
  asPlayed,
  type TakeDecision,
  type TakeFigures,
  type TakeSetUp,
} from '../../../shared/bridge/index.ts';
import { prepareForm } from '../../core/chart/index.ts';
import { isGradable, NOT_GRADABLE, type Reading, readTake } from '../../core/grading/index.ts';
import { figuresOf } from '../../core/progress/index.ts';
import { inOrderOfTime } from '../../core/take/in-order.ts';
import type { TakeEvents } from '../../core/take/model.ts';
import { formatKey } from '../../core/theory/index.ts';

export type Graded =
  | {
      readonly kind: 'graded';
      readonly figures: TakeFigures;
      /** How else it can be read; null where it is graded by a reading, and was not looked at again. */
      readonly readings: readonly Reading[] | null;
      /** What it was played on, in the key it counts in. */
      readonly setUp: TakeSetUp;
    }
  /** Why there are no figures: a clause, then what to do. */
  | { readonly kind: 'unreadable' | 'tooLarge'; readonly figures: null; readonly why: string };

/**
 * Grades what was played by the chart, the plan, the key, the bars and the settings that are stored with it, or by the reading that
 * was taken. A take read in another key counts in that.
 */
export function gradeStored(
  stored: TakeSetUp,
  take: TakeEvents,
  decision: TakeDecision | null,
): Graded {
  const setUp = asPlayed(stored);
  const prepared = prepareForm(setUp.chartText, setUp);
  if (!prepared.ok) {
    const [problem = ''] = prepared.problems;
    return {
      kind: 'unreadable',
      figures: null,
      why: `its chart cannot be read. ${problem}`.trim(),
    };
  }
  const { form } = prepared.value;
  const ordered = { ...take, events: inOrderOfTime(take.events) };
  if (!isGradable(form, ordered, setUp.grade)) {
    return { kind: 'tooLarge', figures: null, why: `it is too long. ${NOT_GRADABLE.remedy}` };
  }
  const read = readTake({ form, take: ordered, settings: setUp.grade }, decision);
  const isTaken = decision?.choice === 'taken';
  return {
    kind: 'graded',
    figures: figuresOf(read.report, read.form),
    readings: isTaken ? null : read.report.readings,
    setUp:
      isTaken && decision.reading.kind === 'key'
        ? { ...setUp, key: formatKey(read.form.key), keyAsSet: setUp.key }
        : setUp,
  };
}

/** That a take is kept and why it does not count, in words. */
export function uncounted(
  { startedAtMs, chartTitle }: { readonly startedAtMs: number; readonly chartTitle: string },
  why: string,
): string {
  const day = new Date(startedAtMs).toISOString().slice(0, 10);
  return `The take of ${day} on ${chartTitle} does not count: ${why}`;
}
