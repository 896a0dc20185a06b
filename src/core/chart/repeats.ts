/** Repeat signs and endings: whether they make sense, and in which order the written bars are played. */

import type { TextPlace } from '../problem.ts';
import type { RawBar } from './block.ts';
import type { WrittenBar } from './model.ts';
import type { ChartProblem, ChartProblemCode } from './problems.ts';

/**
 * Checks the repeat signs of a whole chart. Every repeat is opened by `|:` and closed by `:|`; repeats do not
 * nest; endings count up from 1, each closed by `:|` but the last, which none follows.
 * Source: common practice; an end without a start (which some read as "from the top") is refused, not guessed.
 */
export function checkRepeats(bars: readonly RawBar[]): readonly ChartProblem[] {
  const problems: ChartProblem[] = [];
  const report = (code: ChartProblemCode, place: TextPlace, read: string, expected: string) =>
    problems.push({
      code,
      line: place.line,
      column: place.column,
      read,
      expected,
      suggestion: null,
    });
  let open: TextPlace | null = null;
  let openedAt = 0;
  // The ending that is being read, or 0; `closed` once its `:|` was met and the next ending must follow.
  let ending = 0;
  let closed = false;
  for (const [index, bar] of bars.entries()) {
    if (closed && bar.ending === null) {
      const expected = `ending ${ending + 1} (:|${ending + 1}) right after ending ${ending}`;
      report('endingOutOfOrder', bar.place, 'a bar', expected);
      open = null;
      ending = 0;
    }
    if (bar.repeatStart !== null) {
      const inLastEnding = ending > 1 && !closed && bar.ending === null;
      if (open !== null && !inLastEnding) {
        report('nestedRepeat', bar.repeatStart, '|:', 'a :| that ends the repeat before it');
      }
      open = bar.repeatStart;
      openedAt = index;
      ending = 0;
      closed = false;
    }
    if (bar.ending !== null) {
      const { number, place } = bar.ending;
      if (open === null || (number === 1 && ending === 0 && index === openedAt)) {
        report(
          'endingOutsideRepeat',
          place,
          `|${number}`,
          'a |: and at least one bar before the endings',
        );
        open ??= place;
      } else if (number !== ending + 1) {
        report('endingOutOfOrder', place, `|${number}`, `ending ${ending + 1}`);
      } else if (ending > 0 && !closed) {
        report(
          'endingNotClosed',
          place,
          `|${number}`,
          `:|${number}, the repeat sign that closes ending ${ending}`,
        );
      }
      ending = number;
      closed = false;
    }
    if (bar.repeatEnd !== null) {
      if (open === null)
        report('repeatNotOpened', bar.repeatEnd, ':|', 'a |: where the repeat begins');
      if (ending === 0) open = null;
      else closed = true;
    }
  }
  if (closed) {
    const place = bars.at(-1)?.repeatEnd ?? { line: 1, column: 1 };
    report(
      'endingOutOfOrder',
      place,
      ':|',
      `ending ${ending + 1} (:|${ending + 1}) after ending ${ending}`,
    );
  } else if (open !== null && ending <= 1) {
    if (ending === 1) report('endingOutOfOrder', open, '|:', 'a :|2 after ending 1');
    else report('repeatNotClosed', open, '|:', 'a :| where the repeat ends');
  }
  return problems;
}

/**
 * The written bars in the order they are played, as indices from 0: `|: A |1 B :|2 C |` gives 0 1 0 2. A repeat
 * without endings is played twice, one with endings once for each. In: bars that `checkRepeats` found sound.
 */
export function playOrder(
  bars: readonly Pick<WrittenBar, 'repeatStart' | 'repeatEnd' | 'ending'>[],
): readonly number[] {
  const order: number[] = [];
  let bodyStart = 0;
  let bodyEnd: number | null = null;
  for (const [index, bar] of bars.entries()) {
    if (bar.repeatStart) {
      bodyStart = index;
      bodyEnd = null;
    }
    if (bar.ending === 1) bodyEnd = index;
    order.push(index);
    if (!bar.repeatEnd) continue;
    for (let again = bodyStart; again < (bodyEnd ?? index + 1); again++) order.push(again);
  }
  return order;
}
