/** Chart text: whatever is read can be written, unrolled, moved and read again; whatever is not says where and why. */

import {
  type Chart,
  type ChartProblem,
  chartJson,
  describeProblem,
  formatChart,
  parseChart,
  planNames,
  transposeToKey,
  unrollForm,
} from '../../../src/core/chart/index.ts';
import type { Choices } from '../chance.ts';
import { CHART_TEXTS } from '../corpus.ts';
import { mutateText } from '../mutate.ts';
import { type FuzzTarget, must, sameJson, type Verdict } from '../target.ts';

/** Words of the format, whole and broken. */
export const CHART_WORDS: readonly string[] = [
  '|',
  '||',
  '|:',
  ':|',
  ':|:',
  '|1',
  ':|2',
  '|9',
  '%',
  '/',
  'N.C.',
  '<',
  '>',
  '<dorian>',
  '<C D E>',
  '<F melodic minor>',
  '(3/4)',
  '(12/8)',
  '(0/0)',
  '[A]',
  '[',
  ']',
  '\n',
  '\n\n',
  ' # ',
  'plan: side\n',
  'plan: plain\n',
  'title: T\n',
  'key: Cb\n',
  'key: H\n',
  'meter: 7/8\n',
  'meter: 6/8\n',
  'pickup: 3/8 Dm7 G7\n',
  'pickup: 1\n',
  'pickup: -9/4 | %\n',
  'tempo: 1e3\n',
  'tempo: 0\n',
  'C',
  'Dm7b5',
  'G7(b9,#11)',
  'Calt7',
  'C(((((((',
  'Cmaj7#5/E',
  'Bb6/9',
  'F#ø',
  'C/C/C',
  'x: y\n',
  ':',
  '(',
  ')',
  '♭',
  '♯',
  'Δ7',
  'o7',
  '+',
  '-',
  '\t',
  '\r',
  '\f',
];

export const chartTextTarget: FuzzTarget = {
  name: 'chart text',
  share: 110,
  make(choices) {
    const text = chartTextFrom(choices);
    return { size: text.length, run: () => check(text) };
  },
};

/** A chart text: one that comes with the program spoilt, or words of the format thrown together. */
export function chartTextFrom(choices: Choices): string {
  if (choices.oneIn(4)) return thrown(choices);
  return mutateText(choices, choices.pick(CHART_TEXTS), CHART_TEXTS, CHART_WORDS);
}

function thrown(choices: Choices): string {
  const words = Array.from({ length: choices.below(60) }, () => choices.pick(CHART_WORDS));
  const head = choices.oneIn(3) ? '' : 'title: T\nkey: C\nmeter: 4/4\n';
  return `${head}| ${words.join(choices.pick(['', ' ', ' | ']))} |\n`;
}

function check(text: string): Verdict {
  const read = parseChart(text);
  if (!read.ok) return refusedChart(text, read.problems);
  checkChart(read.value);
  return 'accepted';
}

/** Every problem lies in the text and can be told. */
export function refusedChart(text: string, problems: readonly ChartProblem[]): Verdict {
  must(
    problems.length > 0 && problems.length <= 501,
    'refused without a problem, or with too many',
  );
  const lines = text.split(/\r\n|\n|\r/u).length;
  for (const problem of problems) {
    must(
      problem.line >= 1 && problem.line <= lines && problem.column >= 1,
      'a problem at no place',
    );
    must(describeProblem(problem).length < 2000, 'a sentence is too long to be read');
  }
  return 'refused';
}

function checkChart(chart: Chart): void {
  const written = formatChart(chart);
  const again = parseChart(written);
  must(again.ok && sameJson(again.value, chart), 'a chart changes when it is written and read');
  for (const plan of planNames(chart).slice(0, 3)) {
    const form = unrollForm(chart, plan);
    must(form.ok && form.value.bars.length > 0, 'a plan cannot be unrolled');
    if (form.value.bars.length < 200) JSON.stringify(chartJson(chart, form.value));
  }
  const moved = transposeToKey(chart, { tonic: 3, mode: chart.key.mode });
  if (moved.ok) must(parseChart(formatChart(moved.value)).ok, 'a moved chart is not read');
}
