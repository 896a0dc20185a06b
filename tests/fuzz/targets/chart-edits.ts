/** Small edits of chart text, whatever state it is in: offsets lie in the text, a mending mends, a bar comes and goes. */

import {
  addBarEdits,
  applyEdits,
  barTexts,
  type ChartProblem,
  editHeader,
  editsTowards,
  formatChart,
  parseChart,
  readTree,
  removeBarEdits,
  transposeBarText,
} from '../../../src/core/chart/index.ts';
import { CHARTS } from '../corpus.ts';
import { type FuzzTarget, must, type Verdict } from '../target.ts';
import { chartTextFrom } from './chart-text.ts';

export const chartEditsTarget: FuzzTarget = {
  name: 'chart edits',
  share: 25,
  make(choices) {
    const text = chartTextFrom(choices).slice(0, 8000);
    const towards = choices.pick(CHARTS);
    const value = choices.pick(['x', '# y', 'a\nb', '', '\u2028']);
    const index = choices.below(6);
    return { size: text.length, run: () => check(text, towards, value, index) };
  },
};

function check(
  text: string,
  towards: (typeof CHARTS)[number],
  value: string,
  index: number,
): Verdict {
  const read = parseChart(text);
  for (const { bars } of barTexts(readTree(text))) {
    for (const bar of bars) {
      must(text.slice(bar.from, bar.to) === bar.text, 'a bar is not where it is said to be');
      for (const word of bar.words) {
        must(text.slice(word.from, word.to) === word.text, 'a word is not where it is said to be');
      }
      transposeBarText(bar, index - 3);
    }
  }
  applyEdits(text, [editHeader(text, 'title', value)]);
  applyEdits(text, addBarEdits(text, index, 'Cmaj7'));
  const removed = removeBarEdits(text, index);
  if (removed.ok) applyEdits(text, removed.value);
  const arrived = parseChart(applyEdits(text, editsTowards(text, towards)));
  must(
    arrived.ok && formatChart(arrived.value) === formatChart(towards),
    'edits lead to another chart',
  );
  if (read.ok) return 'accepted';
  for (const problem of read.problems.slice(0, 2)) {
    if (problem.fix === null) continue;
    const fixed = parseChart(applyEdits(text, [problem.fix]));
    must(
      fixed.ok || !fixed.problems.some((other) => isSame(other, problem)),
      'a fix fixes nothing',
    );
  }
  return 'refused';
}

function isSame(one: ChartProblem, other: ChartProblem): boolean {
  return one.code === other.code && one.line === other.line && one.column === other.column;
}
