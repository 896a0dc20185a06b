/** From a chart's text and a player's choices to the form that is played and graded. */

import {
  type Chart,
  describeProblem,
  type Form,
  parseChart,
  parseKeyText,
  sliceForm,
  transposeToKey,
  unrollForm,
} from '../../core/chart/index.ts';
import { failure, type Outcome, success } from '../../core/problem.ts';
import { formatKey } from '../../core/theory/index.ts';

export interface Choice {
  readonly plan: string;
  /** A key as text, or null for the chart's own. */
  readonly key: string | null;
  readonly bars: { readonly from: number; readonly to: number } | null;
}

export interface Prepared {
  readonly chart: Chart;
  readonly form: Form;
  readonly key: string;
}

/** Reads the chart, moves it to the key, unrolls the plan, cuts the bars. Problems are sentences with their places. */
export function prepareForm(text: string, choice: Choice): Outcome<Prepared, string> {
  const parsed = parseChart(text);
  if (!parsed.ok) {
    return failure(
      ...parsed.problems.map(
        (problem) => `Line ${problem.line}, column ${problem.column}: ${describeProblem(problem)}`,
      ),
    );
  }
  const key = choice.key === null ? success(parsed.value.key) : parseKeyText(choice.key);
  const moved = key.ok ? transposeToKey(parsed.value, key.value) : key;
  if (!moved.ok) return failure(...moved.problems.map(describeProblem));
  const form = unrollForm(moved.value, choice.plan);
  if (!form.ok) return failure(...form.problems.map(describeProblem));
  const cut = cutBars(form.value, choice.bars);
  if (!cut.ok) return cut;
  return success({ chart: moved.value, form: cut.value, key: formatKey(moved.value.key) });
}

function cutBars(form: Form, bars: Choice['bars']): Outcome<Form, string> {
  const cut = bars === null ? form : sliceForm(form, bars.from, bars.to);
  if (cut.bars.length > 0) return success(cut);
  return failure(
    `Bars ${bars?.from} to ${bars?.to} are not in this form of ${form.bars.length} bars. Choose others.`,
  );
}
