/** The figures of a take, from what is stored of it: every figure the program keeps is made here. */

import {
  asPlayed,
  type TakeDecision,
  type TakeFigures,
  type TakeSetUp,
  type Uncounted,
} from '../../../shared/bridge/index.ts';
import { prepareForm } from '../../core/chart/index.ts';
import { isGradable, type Reading, readTake } from '../../core/grading/index.ts';
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
  | {
      readonly kind: 'uncounted';
      readonly figures: null;
      readonly why: Extract<Uncounted['because'], 'chartUnreadable' | 'takeTooLong'>;
    };

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
  if (!prepared.ok) return { kind: 'uncounted', figures: null, why: 'chartUnreadable' };
  const { form } = prepared.value;
  const ordered = { ...take, events: inOrderOfTime(take.events) };
  if (!isGradable(form, ordered, setUp.grade)) {
    return { kind: 'uncounted', figures: null, why: 'takeTooLong' };
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

/** That a take is kept, and why it does not count. */
export function uncounted(
  { startedAtMs, chartTitle }: Pick<Uncounted, 'startedAtMs' | 'chartTitle'>,
  because: Uncounted['because'],
): Uncounted {
  return { kind: 'uncounted', startedAtMs, chartTitle, because };
}
