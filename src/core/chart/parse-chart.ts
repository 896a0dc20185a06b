/** From text to chart: lines sorted into headers, bars and plans; then each read, all problems together. */

import { failure, type Outcome, success } from '../problem.ts';
import { type RawBar, readBlock } from './block.ts';
import { checkText } from './check-text.ts';
import { type HeadersResult, readHeaders } from './headers.ts';
import { type SourceLine, splitLines, withoutByteOrderMark } from './lines.ts';
import type {
  BarContent,
  Chart,
  Meter,
  Section,
  WrittenBar,
  WrittenPickup,
  WrittenPlan,
} from './model.ts';
import { type PickupResult, readPickup } from './pickup.ts';
import { checkPlanForm, type PlainForm } from './plan.ts';
import { addProblems, type ChartProblem, chartProblem } from './problems.ts';
import {
  checkSames,
  MAX_CHART_PROBLEMS,
  metersInForce,
  type ReadBars,
  readContents,
} from './read-bars.ts';
import { checkRepeats } from './repeats.ts';
import { type PlanPart, sortLines } from './sort-lines.ts';

/** Most bars a chart may write, plans counted apart. */
export const MAX_CHART_BARS = 10_000;

/**
 * Reads chart text (the format of `chart-text.md`; any line ends, byte order mark allowed).
 * Out: the chart, or every problem of the text in order of place, at most `MAX_CHART_PROBLEMS` and one.
 * Title, key and meter must be named: nothing is guessed. Never throws; time is bounded by the length limits.
 */
export function parseChart(text: string): Outcome<Chart, ChartProblem> {
  const plainText = withoutByteOrderMark(text);
  const unfit = checkText(plainText);
  if (unfit !== null) return failure(unfit);
  const parts = sortLines(splitLines(plainText));
  const headers = readHeaders(parts.headers);
  const plain = readPlain(parts.plain, headers.meter);
  const pickup = readPickupLine(headers, plain.form);
  const problems = [...parts.problems, ...headers.problems, ...pickup.problems, ...plain.problems];
  const plans: WrittenPlan[] = [];
  for (const part of parts.plans) {
    if (problems.length > MAX_CHART_PROBLEMS) break;
    const plan = readPlan(part, plain.form);
    addProblems(problems, plan.problems);
    plans.push({ name: part.name, bars: plan.contents });
  }
  const chart = problems.length > 0 ? null : assemble(headers, pickup.pickup, plain, plans);
  return chart === null ? failure(...inOrder(problems)) : success(chart);
}

interface ReadPlain extends ReadBars {
  readonly form: PlainForm;
}

function readPlain(lines: readonly SourceLine[], startMeter: Meter | null): ReadPlain {
  const block = readBlock(lines);
  const bars = block.sections.flatMap((section) => section.bars);
  const meters = metersInForce(bars, startMeter);
  const form = { block, bars, meters };
  if (bars.length > MAX_CHART_BARS) return { form, contents: [], problems: [tooManyBars(bars)] };
  const read = readContents(bars, meters);
  const problems = [
    ...block.problems,
    ...checkRepeats(bars),
    ...checkSames(bars, meters),
    ...read.problems,
  ];
  if (bars.length === 0 && block.problems.length === 0) {
    problems.push(
      chartProblem(
        'noBars',
        { line: 1, column: 1 },
        'no bars',
        'bars between bar lines, such as | Cm7 F7 |',
      ),
    );
  }
  return { form, contents: read.contents, problems };
}

/** The pickup stands in the meter of bar 1; where that was not understood nothing can be said of it yet. */
function readPickupLine({ pickup, meter }: HeadersResult, { meters }: PlainForm): PickupResult {
  const own = meters[0] ?? meter;
  return pickup === null || own === null ? { pickup: null, problems: [] } : readPickup(pickup, own);
}

function readPlan(part: PlanPart, plain: PlainForm): ReadBars {
  const block = readBlock(part.lines);
  const bars = block.sections.flatMap((section) => section.bars);
  if (bars.length > MAX_CHART_BARS) return { contents: [], problems: [tooManyBars(bars)] };
  const read = readContents(bars, plain.meters);
  return {
    contents: read.contents,
    problems: [...block.problems, ...checkPlanForm(block, plain, part), ...read.problems],
  };
}

function tooManyBars(bars: readonly RawBar[]): ChartProblem {
  const place = bars[MAX_CHART_BARS]?.place ?? { line: 1, column: 1 };
  return chartProblem(
    'tooManyBars',
    place,
    `${bars.length} bars`,
    `at most ${MAX_CHART_BARS} bars`,
  );
}

/** The chart of text without problems; null only if a part is missing all the same. */
function assemble(
  headers: HeadersResult,
  pickup: WrittenPickup | null,
  plain: ReadPlain,
  plans: readonly WrittenPlan[],
): Chart | null {
  const { title, key, meter, tempoBpm, others } = headers;
  if (title === null || key === null || meter === null) return null;
  let index = 0;
  const sections: Section[] = plain.form.block.sections.map((section) => ({
    name: section.name,
    bars: section.bars.map((bar) => {
      const written = writtenBar(bar, plain.contents[index], plain.form.meters[index] ?? meter);
      index += 1;
      return written;
    }),
  }));
  return { title, key, meter, tempoBpm, pickup, headers: others, sections, plans };
}

function writtenBar(bar: RawBar, content: BarContent | undefined, meter: Meter): WrittenBar {
  return {
    content: content ?? { kind: 'same' },
    meter,
    repeatStart: bar.repeatStart !== null,
    repeatEnd: bar.repeatEnd !== null,
    ending: bar.ending?.number ?? null,
    doubleAfter: bar.doubleAfter,
  };
}

function inOrder(problems: readonly ChartProblem[]): readonly ChartProblem[] {
  const sorted = [...problems].sort(
    (one, other) => one.line - other.line || one.column - other.column,
  );
  const listed = sorted.slice(0, MAX_CHART_PROBLEMS);
  const next = sorted[MAX_CHART_PROBLEMS];
  if (next === undefined) return sorted;
  const expected = `the ${MAX_CHART_PROBLEMS} problems above mended first`;
  return [...listed, chartProblem('tooManyProblems', next, 'more problems', expected)];
}
