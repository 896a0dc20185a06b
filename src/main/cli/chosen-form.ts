/** What of a chart is meant, as the options `--key`, `--plan` and `--bars` say. A value that cannot be met is wrong usage. */

import {
  type Chart,
  describeProblem,
  type Form,
  parseKeyText,
  sliceForm,
  transposeToKey,
  unrollForm,
} from '../../core/chart/index.ts';
import { UsageError } from './command.ts';
import type { BarRange } from './values.ts';

/** The chart moved to the key of `--key`, or as it is. */
export function inKey(chart: Chart, wanted: string | undefined): Chart {
  if (wanted === undefined) return chart;
  const key = parseKeyText(wanted);
  const moved = key.ok ? transposeToKey(chart, key.value) : key;
  if (moved.ok) return moved.value;
  throw usageError('--key', moved.problems);
}

/** The plan of `--plan`, unrolled. */
export function inPlan(chart: Chart, name: string): Form {
  const form = unrollForm(chart, name);
  if (form.ok) return form.value;
  throw usageError('--plan', form.problems);
}

/** The bars of `--bars`, or all of them. */
export function inBars(form: Form, bars: BarRange | undefined): Form {
  if (bars === undefined) return form;
  const last = form.bars.length;
  if (bars.to > last) {
    throw new UsageError(
      `option '--bars': this form has bars 1 to ${last}; read ${bars.from}-${bars.to}. Give bars within it.`,
    );
  }
  return sliceForm(form, bars.from, bars.to);
}

type ValueProblem = Parameters<typeof describeProblem>[0];

function usageError(option: string, problems: readonly ValueProblem[]): UsageError {
  const sentences = problems.map((problem) => `option '${option}': ${describeProblem(problem)}`);
  return new UsageError(sentences.join('\n'));
}
