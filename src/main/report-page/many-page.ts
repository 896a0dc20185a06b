/** Many takes at once: a row each, the worst bars over all of them, readiness tempo by tempo. */

import type { Form } from '../../core/chart/index.ts';
import { describeReading, percent } from '../../core/findings/index.ts';
import type { Report } from '../../core/grading/index.ts';
import { describeReadiness, evidenceOf, judgeReadiness } from '../../core/progress/index.ts';
import { FAULTS, type Fault } from '../../core/words.ts';
import type { Paint } from '../cli/paint.ts';
import { printable } from '../cli/show-problem.ts';

export interface GradedTake {
  readonly file: string;
  readonly report: Report;
  /** Whether its first reading puts the counts in doubt. */
  readonly isUndecided: boolean;
  /** Whether it is graded against the chart as asked for: a taken reading can move it to another key. */
  readonly isMoved: boolean;
  /** How to grade by its first reading, where an option does. */
  readonly remedy: string | null;
  readonly modifiedAtMs: number;
}

/** The first other reading of a take in words, with how to grade by it; null where it has none. */
export function readingLine({ report, remedy }: GradedTake, form: Form): string | null {
  const [first] = report.readings;
  if (first === undefined) return null;
  return [describeReading(first, report, form), ...(remedy === null ? [] : [remedy])].join(' ');
}

/** One bar of the form over all takes. */
export interface WorstBar {
  readonly bar: number;
  readonly slots: number;
  readonly clean: number;
  readonly commonest: Fault | null;
}

const WORST_BARS = 5;

/** The bars with the lowest clean rate, lowest first, at most five; bars that are all clean are left out. */
export function worstBars(takes: readonly GradedTake[]): readonly WorstBar[] {
  const sums = new Map<number, Record<Fault | 'slots' | 'clean', number>>();
  for (const bar of takes.flatMap(({ report }) => report.bars)) {
    const sum = sums.get(bar.bar) ?? {
      slots: 0,
      clean: 0,
      gap: 0,
      early: 0,
      late: 0,
      outside: 0,
      interval: 0,
      extra: 0,
    };
    for (const key of ['slots', 'clean', ...FAULTS] as const) sum[key] += bar[key];
    sums.set(bar.bar, sum);
  }
  return [...sums]
    .filter(([, sum]) => sum.clean < sum.slots)
    .map(([bar, sum]) => {
      const commonest = FAULTS.reduce((a, b) => (sum[b] > sum[a] ? b : a));
      return { bar, slots: sum.slots, clean: sum.clean, commonest };
    })
    .sort((a, b) => a.clean / a.slots - b.clean / b.slots || a.bar - b.bar)
    .slice(0, WORST_BARS);
}

/** The page over many takes, with a line end after the last line. */
export function manyPage(takes: readonly GradedTake[], form: Form, colours: Paint): string {
  const rows = takes.map(({ file, report }) => {
    const { summary } = report;
    const { counted, onTime } = summary.changes;
    return [
      printable(file),
      String(report.tempo),
      String(summary.slots),
      summary.cleanRate === null ? '–' : percent(summary.cleanRate),
      `${onTime}/${counted}`,
      String(summary.gap),
      String(summary.early + summary.late),
      String(summary.outside),
      String(summary.interval),
      String(summary.extra),
    ];
  });
  const head = [
    'take',
    'tempo',
    'slots',
    'clean',
    'on time',
    'gap',
    'early/late',
    'outside',
    'interval',
    'extra',
  ];
  const bars = worstBars(takes).map(({ bar, slots, clean, commonest }) => {
    const chords = form.bars[bar - 1]?.chords.map(({ symbol }) => symbol?.text ?? 'N.C.') ?? [];
    return `bar ${bar} (${chords.join(' ')}): ${percent(clean / slots)} clean, most often ${commonest}`;
  });
  const readings = takes.flatMap((take) => {
    const line = readingLine(take, form);
    return line === null ? [] : [`${printable(take.file)}: ${line}`];
  });
  const parts = [
    colours.bold(`${form.title}, plan ${form.plan}: ${takes.length} takes`),
    table([head, ...rows], colours),
    ...(readings.length === 0
      ? []
      : [[colours.bold('Read otherwise'), ...indent(readings)].join('\n')]),
    [colours.bold('Worst bars'), ...indent(bars.length === 0 ? ['every bar is clean'] : bars)].join(
      '\n',
    ),
    [colours.bold('Tempo'), ...indent(readinessLines(takes, form))].join('\n'),
  ];
  return `${parts.join('\n\n')}\n`;
}

function indent(lines: readonly string[]): readonly string[] {
  return lines.map((line) => `  ${line}`);
}

/** First column to the left, figures to the right. */
function table(rows: readonly (readonly string[])[], colours: Paint): string {
  const columns = rows[0]?.length ?? 0;
  const widths = Array.from({ length: columns }, (_, column) =>
    rows.reduce((width, row) => Math.max(width, row[column]?.length ?? 0), 0),
  );
  return rows
    .map((row, index) => {
      const cells = row.map((cell, column) =>
        column === 0 ? cell.padEnd(widths[column] ?? 0) : cell.padStart(widths[column] ?? 0),
      );
      return index === 0 ? colours.dim(cells.join('  ')) : cells.join('  ');
    })
    .join('\n');
}

/** Takes of one tempo are judged together, newest file first; among files of one age the later name is newer. */
function readinessLines(takes: readonly GradedTake[], form: Form): readonly string[] {
  const byTempo = Map.groupBy(takes, ({ report }) => report.tempo);
  const newestMs = takes.reduce((newest, take) => Math.max(newest, take.modifiedAtMs), 0);
  return [...byTempo]
    .sort(([a], [b]) => a - b)
    .map(([tempo, played]) => {
      const evidence = [...played]
        .sort((a, b) => b.modifiedAtMs - a.modifiedAtMs || (a.file < b.file ? 1 : -1))
        .map(({ report, modifiedAtMs, isUndecided }) =>
          evidenceOf(report, form, modifiedAtMs, isUndecided),
        );
      return `${tempo}: ${describeReadiness(judgeReadiness(evidence, tempo, newestMs), tempo)}`;
    });
}
