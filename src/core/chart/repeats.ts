/** Repeat signs and endings: whether they make sense. What they do is in `play-order.ts`. */

import type { TextPlace } from '../problem.ts';
import type { RawBar } from './block.ts';
import { type ChartProblem, type ChartProblemCode, chartProblem } from './problems.ts';

/** Where the walk over the bars stands. */
interface Walk {
  /** The `|:` of the repeat one is in, or null; the last ending still counts as in. */
  open: TextPlace | null;
  openedAtIndex: number;
  /** The ending one is in, or 0 in a repeat's body. */
  ending: number;
  /** The ending met its `:|`, so that the next ending must begin with the next bar. */
  closed: boolean;
}

type Report = (code: ChartProblemCode, place: TextPlace, read: string, expected: string) => void;

/**
 * Checks the repeat signs of a whole chart. Every repeat is opened by `|:` and closed by `:|`; repeats do not
 * nest; endings count up from 1, each closed by `:|` but the last, which none follows.
 * Source: common practice; an end without a start (which some read as "from the top") is refused, not guessed.
 */
export function checkRepeats(bars: readonly RawBar[]): readonly ChartProblem[] {
  const problems: ChartProblem[] = [];
  const report: Report = (code, place, read, expected) =>
    problems.push(chartProblem(code, place, read, expected));
  const walk: Walk = { open: null, openedAtIndex: 0, ending: 0, closed: false };
  for (const [index, bar] of bars.entries()) {
    if (walk.closed && bar.ending === null) missEnding(walk, bar.place, report);
    if (bar.repeatStart !== null) openRepeat(walk, bar, bar.repeatStart, index, report);
    if (bar.ending !== null) beginEnding(walk, bar.ending, index, report);
    if (bar.repeatEnd !== null) endRepeat(walk, bar.repeatEnd, report);
  }
  finish(walk, bars.at(-1)?.place ?? { line: 1, column: 1 }, report);
  return problems;
}

function missEnding(walk: Walk, place: TextPlace, report: Report): void {
  const next = walk.ending + 1;
  report(
    'endingOutOfOrder',
    place,
    'a bar',
    `:|${next}, ending ${next}, right after ending ${walk.ending}`,
  );
  Object.assign(walk, { open: null, ending: 0, closed: false });
}

/** A new repeat may begin in the last ending of the one before, and nowhere else inside it. */
function openRepeat(
  walk: Walk,
  bar: RawBar,
  place: TextPlace,
  index: number,
  report: Report,
): void {
  const inLastEnding = walk.ending > 1 && !walk.closed && bar.ending === null;
  if (walk.open !== null && !inLastEnding) {
    report('nestedRepeat', place, '|:', 'a :| that ends the repeat before it');
  }
  Object.assign(walk, { open: place, openedAtIndex: index, ending: 0, closed: false });
}

function beginEnding(
  walk: Walk,
  ending: NonNullable<RawBar['ending']>,
  index: number,
  report: Report,
): void {
  const { number, place } = ending;
  const read = `|${number}`;
  const hasBody = walk.open !== null && (walk.ending > 0 || index > walk.openedAtIndex);
  if (!hasBody) {
    report('endingOutsideRepeat', place, read, 'a |: and at least one bar before the endings');
    walk.open ??= place;
  } else if (number !== walk.ending + 1) {
    report('endingOutOfOrder', place, read, `|${walk.ending + 1}, ending ${walk.ending + 1}`);
  } else if (walk.ending > 0 && !walk.closed) {
    report('endingNotClosed', place, read, `:|${number}, which also ends ending ${walk.ending}`);
  }
  // Counting on as if it were right, so that one slip is reported once.
  walk.ending += 1;
  walk.closed = false;
}

function endRepeat(walk: Walk, place: TextPlace, report: Report): void {
  if (walk.open === null) report('repeatNotOpened', place, ':|', 'a |: where the repeat begins');
  if (walk.ending > 0) walk.closed = true;
  else walk.open = null;
}

function finish(walk: Walk, lastPlace: TextPlace, report: Report): void {
  if (walk.closed) missEnding(walk, lastPlace, report);
  else if (walk.open !== null && walk.ending === 1) {
    report('endingOutOfOrder', walk.open, '|:', 'a :|2 after ending 1');
  } else if (walk.open !== null && walk.ending === 0) {
    report('repeatNotClosed', walk.open, '|:', 'a :| where the repeat ends');
  }
}
