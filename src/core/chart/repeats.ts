/** Repeat signs, endings and marks of the form: whether they make sense. What they do is in `play-order.ts`. */

import type { TextPlace } from '../problem.ts';
import type { Jump } from './form-marks.ts';
import type { EndMark, StartMark } from './model.ts';
import { type ChartProblem, type ChartProblemCode, chartProblem } from './problems.ts';
import type { BarNode, BlockNode, MarkNode } from './syntax/tree.ts';

/** Where the walk over the bars stands. */
interface Walk {
  /** The `|:` of the repeat one is in, or null; the last ending still counts as in. */
  open: TextPlace | null;
  /** Where the repeat one is in begins, whether `|:` stands there or not. */
  startIndex: number;
  /** The times that the endings of this repeat name so far; empty in its body. */
  times: number[];
  /** Those of the last of them. */
  lastTimes: readonly number[];
  /** The ending met its `:|`. */
  closed: boolean;
}

type Report = (code: ChartProblemCode, place: TextPlace, read: string, expected: string) => void;

/**
 * Checks the repeat signs of a whole chart. What `|:` opens `:|` closes; repeats do not nest; endings name each time from 1 on
 * once, all but the one for the last time are closed by `:|`, and the one for the last time is not, unless another follows it.
 * Source: `chart-text.md`; common practice, no source.
 */
export function checkRepeats({ bars }: Pick<BlockNode, 'bars'>): readonly ChartProblem[] {
  const problems: ChartProblem[] = [];
  const report: Report = (code, place, read, expected) =>
    problems.push(chartProblem(code, place, read, expected));
  const walk: Walk = { open: null, startIndex: 0, times: [], lastTimes: [], closed: false };
  for (const [index, bar] of bars.entries()) {
    if (walk.closed && bar.ending === null) endEndings(walk, bar.place, index, report);
    if (bar.repeatStart !== null) openRepeat(walk, bar, bar.repeatStart, index, report);
    if (bar.ending !== null) beginEnding(walk, bar.ending, index, report);
    if (bar.repeatEnd !== null) endRepeat(walk, index);
    else if (bar.doubleAfter && walk.open === null && walk.times.length === 0) {
      walk.startIndex = index + 1;
    }
  }
  finish(walk, bars.at(-1)?.place ?? { line: 1, column: 1 }, report);
  return problems;
}

/** What comes after an ending with its `:|` and is no ending: right when all times have been played. */
function endEndings(walk: Walk, place: TextPlace, index: number, report: Report): void {
  const missing = firstMissing(walk.times);
  const isWhole = missing > Math.max(...walk.times) && !walk.lastTimes.includes(missing - 1);
  if (!isWhole) {
    const last = walk.lastTimes.join(',');
    report(
      'endingOutOfOrder',
      place,
      'a bar',
      `:|${missing}, ending ${missing}, right after ending ${last}`,
    );
  }
  Object.assign(walk, { open: null, startIndex: index, times: [], lastTimes: [], closed: false });
}

/** The first time through that no ending is for. */
function firstMissing(times: readonly number[]): number {
  let time = 1;
  while (times.includes(time)) time++;
  return time;
}

/** A new repeat may begin in the last ending of the one before, and nowhere else inside it. */
function openRepeat(
  walk: Walk,
  bar: BarNode,
  place: TextPlace,
  index: number,
  report: Report,
): void {
  const inLastEnding = walk.times.length > 1 && !walk.closed && bar.ending === null;
  if (inLastEnding) missEarlier(walk, place, report);
  else if (walk.open !== null || walk.times.length > 0) {
    report('nestedRepeat', place, '|:', 'a :| that ends the repeat before it');
  }
  Object.assign(walk, { open: place, startIndex: index, times: [], lastTimes: [], closed: false });
}

function beginEnding(
  walk: Walk,
  ending: NonNullable<BarNode['ending']>,
  index: number,
  report: Report,
): void {
  const { numbers, text } = ending;
  const missing = firstMissing(walk.times);
  const hasBody = walk.times.length > 0 || index > walk.startIndex;
  const isOpened = walk.open !== null || walk.times.length > 0 || numbers[0] === 1;
  const isNew = numbers.every(
    (time, at) => time > 0 && !walk.times.includes(time) && numbers.indexOf(time) === at,
  );
  if (!hasBody || !isOpened) {
    const expected = 'a |: and at least one bar before the endings';
    report('endingOutsideRepeat', ending, text, expected);
    walk.open ??= ending;
  } else if (!isNew || !numbers.includes(missing)) {
    report('endingOutOfOrder', ending, text, `|${missing}, ending ${missing}`);
  } else if (walk.times.length > 0 && !walk.closed) {
    const before = walk.lastTimes.join(',');
    report('endingNotClosed', ending, text, `:${text}, which also ends ending ${before}`);
  }
  // Counting on as if it were right, so that one slip is reported once.
  walk.lastTimes = isNew && numbers.includes(missing) ? numbers : [missing];
  walk.times.push(...walk.lastTimes);
  walk.closed = false;
}

function endRepeat(walk: Walk, index: number): void {
  if (walk.times.length > 0) walk.closed = true;
  else Object.assign(walk, { open: null, startIndex: index + 1 });
}

/** The last ending goes on into what follows: it must be for the last time. */
function missEarlier(walk: Walk, place: TextPlace, report: Report): void {
  const missing = firstMissing(walk.times);
  if (missing < Math.max(...walk.times)) {
    report('endingOutOfOrder', place, 'a bar', `ending ${missing}`);
  }
}

function finish(walk: Walk, lastPlace: TextPlace, report: Report): void {
  if (walk.closed) endEndings(walk, lastPlace, 0, report);
  else if (walk.times.length > 0) {
    const missing = firstMissing(walk.times);
    if (missing < 3 || missing < Math.max(...walk.times)) {
      const place = walk.open ?? lastPlace;
      report(
        'endingOutOfOrder',
        place,
        '|:',
        `a :|${missing} after ending ${walk.lastTimes.join(',')}`,
      );
    } else if (!walk.lastTimes.includes(missing - 1)) {
      report(
        'endingNotClosed',
        lastPlace,
        'the end',
        `:| at the end of ending ${walk.lastTimes.join(',')}`,
      );
    }
  } else if (walk.open !== null) {
    report('repeatNotClosed', walk.open, '|:', 'a :| where the repeat ends');
  }
}

/** The marks of one bar. */
export interface BarMarks {
  readonly startMark: StartMark | null;
  readonly endMark: EndMark | null;
}

export interface ReadMarks {
  /** One for each bar. */
  readonly bars: readonly BarMarks[];
  readonly problems: readonly ChartProblem[];
}

/**
 * Gives each mark to the bar it belongs to: where one comes to, to the bar after it; where one leaves, to the bar before it. The
 * first `(coda)` of two is left for the second; of one alone nothing is left. Problems: `markTwice` for what a chart has once,
 * `markWithoutTarget` for a jump to what is not there, `markMisplaced` where no bar stands on the side it belongs to, or one with a
 * mark already.
 */
export function readMarks({ bars, marks }: Pick<BlockNode, 'bars' | 'marks'>): ReadMarks {
  const problems: ChartProblem[] = [];
  const read: { startMark: StartMark | null; endMark: EndMark | null }[] = bars.map(() => ({
    ...{ startMark: null, endMark: null },
  }));
  const placed = [...bars.map((bar) => bar.marks), marks].flatMap((nodes, before) =>
    nodes.map((node) => ({ ...node, before })),
  );
  const seen = { segno: 0, coda: 0, fine: 0, jump: 0 };
  for (const { mark, token, before } of placed) {
    seen[mark.kind] += 1;
    if (seen[mark.kind] > (mark.kind === 'coda' ? 2 : 1)) {
      const most =
        mark.kind === 'coda' ? 'two codas, where one leaves and where one goes on' : 'it once';
      problems.push(chartProblem('markTwice', token, token.text, most));
      continue;
    }
    const isStart = mark.kind === 'segno' || (mark.kind === 'coda' && seen.coda === 2);
    const bar = read[isStart ? before : before - 1];
    const isTaken = bar !== undefined && (isStart ? bar.startMark : bar.endMark) !== null;
    if (bar === undefined || isTaken) {
      const side = isStart ? 'after' : 'before';
      const expected = `a bar ${side} it, without another such mark`;
      problems.push(chartProblem('markMisplaced', token, token.text, expected));
    } else if (mark.kind === 'segno') bar.startMark = 'segno';
    else if (mark.kind === 'jump') {
      bar.endMark = mark;
      problems.push(...withoutTarget(mark.jump, { mark, token }, placed));
    } else if (mark.kind === 'fine') bar.endMark = mark;
    else if (isStart) bar.startMark = 'coda';
    else bar.endMark = { kind: 'toCoda' };
  }
  return { bars: read, problems };
}

function withoutTarget(
  { to, until }: Jump,
  { token }: MarkNode,
  placed: readonly MarkNode[],
): readonly ChartProblem[] {
  const count = (kind: MarkNode['mark']['kind']): number =>
    placed.filter(({ mark }) => mark.kind === kind).length;
  const missing = [
    ...(to === 'segno' && count('segno') === 0 ? ['a (segno) to go back to'] : []),
    ...(until === 'fine' && count('fine') === 0 ? ['a (fine) to end at'] : []),
    ...(until === 'coda' && count('coda') < 2
      ? ['a (coda) where one leaves and one to go on at']
      : []),
  ];
  if (missing.length === 0) return [];
  return [chartProblem('markWithoutTarget', token, token.text, missing.join(', and '))];
}
