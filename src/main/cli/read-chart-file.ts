/** From a path to a chart. */

import { type Chart, type ChartProblemCode, parseChart } from '../../core/chart/index.ts';
import { failure, type Outcome, type TextProblem } from '../../core/problem.ts';
import { type FileProblemCode, readTextFile } from './read-file.ts';

/** A problem in a chart file, with all that is needed to show it. */
export interface ChartFileProblem extends TextProblem<ChartProblemCode | FileProblemCode> {
  readonly path: string;
  /** The line it stands in, as in the file; null when the file could not be read at all. */
  readonly sourceLine: string | null;
}

/** Reads and parses a chart file; problems of reading and of the text alike, all of them at once. */
export function readChartFile(path: string): Outcome<Chart, ChartFileProblem> {
  const text = readTextFile(path);
  if (!text.ok) {
    return failure(...text.problems.map((problem) => ({ ...problem, path, sourceLine: null })));
  }
  const chart = parseChart(text.value);
  if (chart.ok) return chart;
  const lines = text.value.split(/\r\n|\r|\n/u);
  return failure(
    ...chart.problems.map((problem) => ({
      ...problem,
      path,
      sourceLine: lines[problem.line - 1] ?? '',
    })),
  );
}
