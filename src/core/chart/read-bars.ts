/** Raw bars read in their meters: what stands in each, and whether every `%` has a bar to repeat. */

import { readContent, rememberingReader } from './content.ts';
import { isSameMeter } from './meter.ts';
import type { BarContent, Meter } from './model.ts';
import { addProblems, type ChartProblem, chartProblem } from './problems.ts';
import type { BarNode } from './syntax/tree.ts';

/** Most problems listed; beyond it one more says so. A text that wrong is better looked at whole. */
export const MAX_CHART_PROBLEMS = 500;

export interface ReadBars {
  /** One for each bar, null where it was not understood. */
  readonly contents: readonly (BarContent | null)[];
  readonly problems: readonly ChartProblem[];
}

/** The meter of each bar: that of the header until a change, then that of the change. */
export function metersInForce(
  bars: readonly BarNode[],
  start: Meter | null,
): readonly (Meter | null)[] {
  let meter = start;
  return bars.map((bar) => {
    if (bar.meterChange !== null) meter = bar.meterChange.meter;
    return meter;
  });
}

/** Stops reading when there are more problems than are listed anyway. */
export function readContents(
  bars: readonly BarNode[],
  meters: readonly (Meter | null)[],
): ReadBars {
  const contents: (BarContent | null)[] = [];
  const problems: ChartProblem[] = [];
  const reader = rememberingReader();
  for (const [index, bar] of bars.entries()) {
    if (problems.length > MAX_CHART_PROBLEMS) break;
    const read = readContent(bar, meters[index] ?? null, reader);
    addProblems(problems, read.problems);
    contents.push(read.content);
  }
  return { contents, problems };
}

/**
 * In `plain`, `%` needs a bar before it that is the same whichever way the bar is reached, and of its meter. `entered` are the
 * bars that are reached from elsewhere too.
 */
export function checkSames(
  bars: readonly BarNode[],
  meters: readonly (Meter | null)[],
  entered: ReadonlySet<number>,
): readonly ChartProblem[] {
  return bars.flatMap((bar, index) => {
    if (bar.tokens[0]?.text !== '%') return [];
    const [meter, before] = [meters[index], meters[index - 1]];
    if (index === 0) {
      return [chartProblem('sameWithoutBar', bar.place, '%', 'chords in the first bar')];
    }
    if (entered.has(index)) {
      const expected =
        'the chords written out; after a sign that is jumped to it is not plain which bar % repeats';
      return [chartProblem('sameAfterRepeat', bar.place, '%', expected)];
    }
    if (meter && before && !isSameMeter(meter, before)) {
      const expected = 'the chords written out; the bar before is in another meter';
      return [chartProblem('sameAcrossMeters', bar.place, '%', expected)];
    }
    return [];
  });
}
