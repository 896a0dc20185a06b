/** The report of one take as a page for the terminal. */

import type { Form } from '../../core/chart/index.ts';
import { counted, type Finding, findings, percent } from '../../core/findings/index.ts';
import type { Report } from '../../core/grading/index.ts';
import { describeReadiness, evidenceOf, judgeReadiness } from '../../core/progress/index.ts';
import type { Paint } from '../cli/paint.ts';
import { printable } from '../cli/show-problem.ts';
import { heatmap } from './heatmap.ts';
import { type GradedTake, readingLine } from './many-page.ts';

/** The whole page, with a line end after the last line. `width` is the terminal's, in columns. */
export function reportPage(graded: GradedTake, form: Form, width: number, colours: Paint): string {
  const { report, file } = graded;
  const { summary } = report;
  const reading = readingLine(graded, form);
  const head = [
    colours.bold(`${report.chart}, plan ${report.plan}`),
    `${printable(file)} · ${report.level} at ${report.tempo} · ${report.meter} · ${counted(choruses(report), 'chorus')}`,
    summary.cleanRate === null
      ? 'No note of the line was found. Check the split, the start and the tempo.'
      : `${summary.clean} of ${counted(summary.slots, report.level === 'free' ? 'note' : 'slot')} clean (${percent(summary.cleanRate)}), longest clean run ${summary.line.longestRun}`,
  ];
  const paragraphs = findings(report).map(({ title, lines }) =>
    [colours.bold(title), ...cutList(lines).map((line) => `  ${line}`)].join('\n'),
  );
  const parts = [
    head.join('\n'),
    ...(reading === null ? [] : [`${colours.bold('Read otherwise')}\n  ${reading}`]),
    heatmap(form, report.bars, width, colours).join('\n'),
    ...paragraphs,
    `${colours.bold('Tempo')}\n  ${readinessLine(graded, form)}`,
  ];
  return `${parts.join('\n\n')}\n`;
}

const LONGEST_LIST = 8;

/** The first lines of a long list, and how many more there are. */
function cutList(lines: readonly Finding[]): readonly string[] {
  const shown = lines.slice(0, LONGEST_LIST).map(({ text }) => text);
  const more = lines.length - shown.length;
  return more === 0 ? shown : [...shown, `and ${more} more`];
}

function choruses(report: Report): number {
  return report.slots.at(-1)?.chorus ?? 0;
}

function readinessLine({ report, isUndecided }: GradedTake, form: Form): string {
  const verdict = judgeReadiness([evidenceOf(report, form, 0, isUndecided)], report.tempo, 0);
  return describeReadiness(verdict, report.tempo);
}
