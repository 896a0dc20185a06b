/** From a path to a chart: chart text, or a score in MusicXML, compressed or not. */

import {
  type Chart,
  type ChartProblemCode,
  describeMismatch,
  parseChart,
} from '../../core/chart/index.ts';
import {
  describeMusicXmlNotice,
  describeMusicXmlProblem,
  LARGEST_SCORE_BYTES,
  type MusicXmlProblem,
  readMusicXml,
} from '../../core/chart/musicxml/index.ts';
import { failure, type Outcome, success, type TextProblem } from '../../core/problem.ts';
import { type FileProblemCode, readFileBytes, readTextFile } from './read-file.ts';

/** A problem in a chart file, with all that is needed to show it. */
export interface ChartFileProblem
  extends TextProblem<ChartProblemCode | FileProblemCode | MusicXmlProblem['code']> {
  readonly path: string;
  /** What is wrong, in a sentence or two. */
  readonly sentence: string;
  /** The line it stands in, as in the file; null when there is none to show. */
  readonly sourceLine: string | null;
}

export interface ChartFile {
  readonly chart: Chart;
  /** What of a score the chart does not hold, or holds by guess; sentences. */
  readonly notices: readonly string[];
}

/**
 * Reads a chart file; problems of reading and of the text alike, all of them at once. Files that end in .musicxml, .mxl
 * or .xml are scores (the endings of MusicXML 4.0, and the one of its first versions), all others chart text.
 */
export function readChartFile(path: string): Outcome<ChartFile, ChartFileProblem> {
  return /\.(musicxml|mxl|xml)$/iu.test(path) ? readScoreFile(path) : readTextChart(path);
}

function readTextChart(path: string): Outcome<ChartFile, ChartFileProblem> {
  const text = readTextFile(path);
  if (!text.ok) return failure(...text.problems.map((problem) => unreadable(path, problem)));
  const chart = parseChart(text.value);
  if (chart.ok) return success({ chart: chart.value, notices: [] });
  const lines = text.value.split(/\r\n|\r|\n/u);
  return failure(
    ...chart.problems.map((problem) => ({
      ...problem,
      path,
      sentence: describeMismatch(problem),
      sourceLine: lines[problem.line - 1] ?? '',
    })),
  );
}

function readScoreFile(path: string): Outcome<ChartFile, ChartFileProblem> {
  const bytes = readFileBytes(path, LARGEST_SCORE_BYTES);
  if (!bytes.ok) return failure(...bytes.problems.map((problem) => unreadable(path, problem)));
  const score = readMusicXml(bytes.value);
  if (!score.ok) return failure(...score.problems.map((problem) => inScore(path, problem)));
  const { chart, notices } = score.value;
  return success({ chart, notices: notices.map(describeMusicXmlNotice) });
}

function unreadable(path: string, problem: TextProblem<FileProblemCode>): ChartFileProblem {
  return { ...problem, path, sentence: describeMismatch(problem), sourceLine: null };
}

function inScore(path: string, problem: MusicXmlProblem): ChartFileProblem {
  const sentence = describeMusicXmlProblem(problem);
  const place = problem.code === 'xml' ? problem : { line: 1, column: 1 };
  return {
    code: problem.code,
    line: place.line,
    column: place.column,
    read: sentence,
    expected: 'a score in MusicXML with chord symbols',
    suggestion: null,
    path,
    sentence,
    sourceLine: null,
  };
}
