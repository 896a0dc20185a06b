/** The figures of a take, from what is stored of it: every figure the program keeps is made here. */

import type { TakeFigures, TakeSetUp } from '../../../shared/bridge/index.ts';
import { prepareForm } from '../../core/chart/index.ts';
import { gradeTake, isGradable, NOT_GRADABLE } from '../../core/grading/index.ts';
import { figuresOf } from '../../core/progress/index.ts';
import { inOrderOfTime } from '../../core/take/in-order.ts';
import type { TakeEvents } from '../../core/take/model.ts';

export type Graded =
  | { readonly kind: 'graded'; readonly figures: TakeFigures }
  /** Why there are no figures: a clause, then what to do. */
  | { readonly kind: 'unreadable' | 'tooLarge'; readonly figures: null; readonly why: string };

/** Grades what was played by the chart, the plan, the key, the bars and the settings that are stored with it. */
export function gradeStored(setUp: TakeSetUp, take: TakeEvents): Graded {
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
  return { kind: 'graded', figures: figuresOf(gradeTake(form, ordered, setUp.grade), form) };
}

/** That a take is kept and why it does not count, in words. */
export function uncounted(
  { startedAtMs, chartTitle }: { readonly startedAtMs: number; readonly chartTitle: string },
  why: string,
): string {
  const day = new Date(startedAtMs).toISOString().slice(0, 10);
  return `The take of ${day} on ${chartTitle} does not count: ${why}`;
}
