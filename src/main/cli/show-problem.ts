/** A problem in a text file, as lines for a terminal: the place, the source line with a caret, and the remedy. */

import type { TextPlace } from '../../core/problem.ts';
import { type Paint, paint } from './paint.ts';

export interface ShownProblem extends TextPlace {
  readonly path: string;
  readonly sentence: string;
  /** The nearest known spelling, or null. */
  readonly suggestion: string | null;
  /** The line the problem stands in, or null when there is none to show. */
  readonly sourceLine: string | null;
}

/** All problems of a file on standard error. */
export function tellProblems(problems: readonly ShownProblem[]): void {
  const colours = paint(process.stderr, process.env);
  const shown = problems.map((problem) => showProblem(problem, colours));
  process.stderr.write(`${shown.join('\n\n')}\n`);
}

/** What was left out or guessed in a file that was read, on standard error, a line for each. */
export function tellNotices(path: string, notices: readonly string[]): void {
  for (const notice of notices) {
    process.stderr.write(`${printable(path)}: ${printable(notice)}\n`);
  }
}

/** Characters of the source line shown on either side of the problem. */
const SHOWN_BESIDE = 50;

/** Several lines, without a line end after the last. */
export function showProblem(problem: ShownProblem, colours: Paint): string {
  const { path, line, column, sourceLine } = problem;
  // A file that could not be read at all has no place inside.
  const place = sourceLine === null ? path : `${path}:${line}:${column}`;
  const sentence = printable(problem.sentence);
  const source = sourceLine === null ? [] : showSource(sourceLine, column, colours);
  const remedy =
    problem.suggestion === null
      ? []
      : [`  nearest: ${colours.cyan(printable(problem.suggestion))}`];
  return [`${colours.bold(printable(place))}  ${sentence}`, ...source, ...remedy].join('\n');
}

function showSource(sourceLine: string, column: number, colours: Paint): readonly string[] {
  // The byte order mark has no width and no column of its own.
  const line = printable(sourceLine.replace(/^\uFEFF/u, ''));
  const from = Math.max(0, column - 1 - SHOWN_BESIDE);
  const shown = line.slice(from, column - 1 + SHOWN_BESIDE);
  const before = line.slice(from, column - 1).replace(/[^\t]/gu, ' ');
  return [`    ${colours.dim(shown)}`, `    ${before}${colours.yellow('^')}`];
}

/** Control characters from a file must not reach the terminal; tabs may. */
export function printable(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is replaced
  return text.replace(/[\u0000-\u0008\u000A-\u001F\u007F-\u009F]/gu, '\uFFFD');
}
