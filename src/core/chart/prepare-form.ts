/** From a chart's text and what is chosen of it to the form that is played and graded. */

import { failure, type Outcome, success } from '../problem.ts';
import { formatKey } from '../theory/key.ts';
import { parseKeyText } from './key-text.ts';
import type { Chart, Form } from './model.ts';
import { parseChart } from './parse-chart.ts';
import { describeProblem } from './sentences.ts';
import { transposeToKey } from './transpose-chart.ts';
import { sliceForm, unrollForm } from './unroll.ts';

/** What of a chart is played. */
export interface FormChoice {
  readonly plan: string;
  /** A key as text, or null for the chart's own. */
  readonly key: string | null;
  /** A range of bars of the unrolled form, from 1, or null for all of it. */
  readonly bars: { readonly from: number; readonly to: number } | null;
}

export interface PreparedForm {
  /** In the key that was chosen. */
  readonly chart: Chart;
  readonly form: Form;
  readonly key: string;
}

/**
 * Reads the chart, moves it to the key, unrolls the plan, cuts the bars. The page that plays a take and the host that grades
 * what was stored of it both come to their form here. Problems are sentences with their places.
 */
export function prepareForm(text: string, choice: FormChoice): Outcome<PreparedForm, string> {
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

function cutBars(form: Form, bars: FormChoice['bars']): Outcome<Form, string> {
  const cut = bars === null ? form : sliceForm(form, bars.from, bars.to);
  if (cut.bars.length > 0) return success(cut);
  return failure(
    `Bars ${bars?.from} to ${bars?.to} are not in this form of ${form.bars.length} bars. Choose others.`,
  );
}
