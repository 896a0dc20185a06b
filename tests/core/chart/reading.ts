/** Helpers of the chart tests: short text in, the chart or the places of its problems out. */

import {
  type Chart,
  type Form,
  parseChart,
  unrollForm,
  type WrittenBar,
} from '../../../src/core/chart/index.ts';

/** Bars under the three headers a chart needs; the first line of `bars` is line 4. */
export function textOf(bars: string, meter = '4/4'): string {
  return `title: Pier Lights\nkey: Bb\nmeter: ${meter}\n${bars}`;
}

export function chartOf(text: string): Chart {
  const outcome = parseChart(text);
  if (!outcome.ok) throw new Error(`problems: ${JSON.stringify(outcome.problems)}`);
  return outcome.value;
}

/** `code line:column` of every problem, in the order reported; empty when the text is a chart. */
export function problemsOf(text: string): readonly string[] {
  const outcome = parseChart(text);
  return outcome.ok
    ? []
    : outcome.problems.map(({ code, line, column }) => `${code} ${line}:${column}`);
}

export function barsOf(chart: Chart): readonly WrittenBar[] {
  return chart.sections.flatMap((section) => section.bars);
}

/** A bar's chords as `symbol@beat+beats`, `%` for a bar that repeats the one before. */
export function contentOf(bar: WrittenBar | undefined): string {
  if (bar === undefined) return 'no such bar';
  if (bar.content.kind === 'same') return '%';
  return bar.content.chords
    .map(({ symbol, beat, beats }) => `${symbol?.text ?? 'N.C.'}@${beat}+${beats}`)
    .join(' ');
}

export function formOf(chart: Chart, plan = 'plain'): Form {
  const outcome = unrollForm(chart, plan);
  if (!outcome.ok) throw new Error(`no plan ${plan}`);
  return outcome.value;
}

/** The chords of each bar of a form, by symbol. */
export function symbolsOf(form: Form): readonly string[] {
  return form.bars.map(({ chords }) =>
    chords.map(({ symbol }) => symbol?.text ?? 'N.C.').join(' '),
  );
}
