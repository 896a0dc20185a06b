/** What a problem's suggestion changes in the text. */

import { applyEdits, offsetOfPlace, readBarTexts, type TextEdit } from './edit-text.ts';
import { parseChart } from './parse-chart.ts';
import type { ChartProblem } from './problems.ts';

/**
 * The edit that puts a problem's suggestion in its place, or null when there is none that leaves fewer problems. A
 * suggestion may stand for what was read, for the whole word around it, or be what is missing there: the first of
 * these that helps is taken.
 */
export function mendingEdit(text: string, problem: ChartProblem): TextEdit | null {
  const { suggestion, read } = problem;
  if (suggestion === null) return null;
  const at = offsetOfPlace(text, problem);
  const word = readBarTexts(text)
    .flatMap(({ bars }) => bars.flatMap(({ words }) => words))
    .find(({ from, to }) => from <= at && at < to);
  const places = [
    ...(text.startsWith(read, at) ? [{ from: at, to: at + read.length }] : []),
    ...(word === undefined ? [] : [{ from: word.from, to: word.to }]),
    { from: at, to: at },
  ];
  const before = problemCount(text);
  const edits = places.map(({ from, to }) => ({ from, to, insert: suggestion }));
  return edits.find((edit) => problemCount(applyEdits(text, [edit])) < before) ?? null;
}

function problemCount(text: string): number {
  const parsed = parseChart(text);
  return parsed.ok ? 0 : parsed.problems.length;
}
