/** From text to chart: the syntax tree, then what each part of it means, all problems together. */

import { failure, type Outcome, success } from '../problem.ts';
import type { Key } from '../theory/key.ts';
import { PLAIN } from '../words.ts';
import { checkText } from './check-text.ts';
import { estimateKey } from './estimate-key.ts';
import { type HeadersResult, readHeaders, valuePlace } from './headers.ts';
import { beatsPerBar } from './meter.ts';
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
import { repeatsOf } from './play-order.ts';
import { addProblems, type ChartProblem, chartProblem } from './problems.ts';
import {
  checkSames,
  MAX_CHART_PROBLEMS,
  metersInForce,
  type ReadBars,
  readContents,
} from './read-bars.ts';
import { type BarMarks, checkRepeats, readMarks } from './repeats.ts';
import { type BarNode, type ChartTree, type PlanNode, readTree } from './syntax/tree.ts';
import type { TextEdit } from './text-edit.ts';

/** Most bars a chart may write, plans counted apart. */
export const MAX_CHART_BARS = 10_000;

/** The meter of a chart that names none. Source: `chart-text.md`. */
const ASSUMED_METER: Meter = { count: 4, unit: 4 };

/** A text read as far as it can be. */
export interface ChartReading {
  readonly tree: ChartTree;
  /**
   * What was understood. Where nothing was: the title empty, the key estimated, the meter 4/4, `N.C.` in a bar. Null where the text
   * is none that may be read, or has no bars.
   */
  readonly chart: Chart | null;
  /** For `plain` and then each plan, the bars, as indices from 0, that were not understood. */
  readonly unread: readonly ReadonlySet<number>[];
  /** In order of place, at most `MAX_CHART_PROBLEMS` and one; empty: the chart is just what is written. */
  readonly problems: readonly ChartProblem[];
}

/**
 * Reads chart text (the format of `chart-text.md`; any line ends, byte order mark allowed).
 * Out: the chart, or every problem of the text in order of place, at most `MAX_CHART_PROBLEMS` and one.
 * The title must be named; the key is estimated and the meter 4/4 where they are not. Never throws; time is bounded by the length
 * limits.
 */
export function parseChart(text: string): Outcome<Chart, ChartProblem> {
  const { chart, problems } = readChart(text);
  return chart === null || problems.length > 0 ? failure(...problems) : success(chart);
}

/** The quick fix of a problem in a text as it is now, which may be another than the one it was found in; null when it is gone. */
export function quickFix(text: string, problem: ChartProblem): TextEdit | null {
  const { problems } = readChart(text);
  const { code, line, column } = problem;
  const now = problems.find(
    (other) => other.code === code && other.line === line && other.column === column,
  );
  return now?.fix ?? null;
}

/** Reads chart text and keeps what can be understood of one with problems: a bar that is wrong takes no other with it. */
export function readChart(text: string): ChartReading {
  const unfit = checkText(text.replace(/^\uFEFF/u, ''));
  if (unfit !== null) return { tree: readTree(''), chart: null, unread: [], problems: [unfit] };
  const tree = readTree(text);
  const headers = readHeaders(tree.headers);
  const startMeter = headers.meter ?? (headers.meterGiven ? null : ASSUMED_METER);
  const plain = readPlain(tree, startMeter);
  const pickup = readPickupLine(headers, startMeter, plain.form);
  const problems = [...tree.problems, ...headers.problems, ...pickup.problems, ...plain.problems];
  const plans: { readonly name: string; readonly read: ReadBars }[] = [];
  const names = new Map<string, number>();
  for (const plan of tree.plans) {
    if (problems.length > MAX_CHART_PROBLEMS) break;
    const read = readPlan(plan, plain.form);
    addProblems(problems, checkPlanName(plan, names));
    addProblems(problems, read.problems);
    plans.push({ name: plan.header.value, read });
  }
  const chart =
    plain.form.block.bars.length === 0 ? null : assemble(headers, pickup.pickup, plain, plans);
  return {
    ...{ tree, chart, problems: inOrder(problems) },
    unread: [plain, ...plans.map(({ read }) => read)].map(({ contents }) => unreadOf(contents)),
  };
}

function unreadOf(contents: ReadBars['contents']): ReadonlySet<number> {
  return new Set(contents.flatMap((content, index) => (content === null ? [index] : [])));
}

interface ReadPlain extends ReadBars {
  readonly form: PlainForm;
  readonly marks: readonly BarMarks[];
}

function readPlain({ plain: block }: ChartTree, startMeter: Meter | null): ReadPlain {
  const { bars } = block;
  const meters = metersInForce(bars, startMeter);
  const form = { block, meters };
  const marks = readMarks(block);
  if (bars.length > MAX_CHART_BARS) {
    return { form, marks: marks.bars, contents: [], problems: [tooManyBars(bars)] };
  }
  const read = readContents(bars, meters);
  const problems = [
    ...block.problems,
    ...checkRepeats(block),
    ...marks.problems,
    ...checkSames(bars, meters, enteredBars(bars, marks.bars)),
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
  return { form, marks: marks.bars, contents: read.contents, problems };
}

/** Bars, from 0, before which more than one bar is played: beginnings of repeats, later endings, segno and coda. */
function enteredBars(bars: readonly BarNode[], marks: readonly BarMarks[]): ReadonlySet<number> {
  const repeats = repeatsOf(bars.map((bar, index) => barSigns(bar, marks[index])));
  return new Set([
    ...repeats.flatMap(({ from, endings, to }) => [
      from,
      ...endings.slice(1).map((ending) => ending.from),
      ...(endings.length > 0 ? [to] : []),
    ]),
    ...bars.flatMap(({ repeatStart, ending }, index) =>
      repeatStart !== null || (ending?.numbers[0] ?? 1) > 1 ? [index] : [],
    ),
    ...marks.flatMap(({ startMark }, index) => (startMark === null ? [] : [index])),
  ]);
}

/** The pickup stands in the meter of bar 1; where that was not understood nothing can be said of it yet. */
function readPickupLine(
  { pickup }: HeadersResult,
  startMeter: Meter | null,
  { meters }: PlainForm,
): PickupResult {
  const own = meters[0] ?? startMeter;
  return pickup === null || own === null ? { pickup: null, problems: [] } : readPickup(pickup, own);
}

function readPlan(plan: PlanNode, plain: PlainForm): ReadBars {
  const { bars } = plan;
  if (bars.length > MAX_CHART_BARS) return { contents: [], problems: [tooManyBars(bars)] };
  const read = readContents(bars, plain.meters);
  const name = { ...valuePlace(plan.header), name: plan.header.value };
  return {
    contents: read.contents,
    problems: [...plan.problems, ...checkPlanForm(plan, plain, name), ...read.problems],
  };
}

/** `lines` has the line of each name so far, in lower case; the new one is added. */
function checkPlanName({ header }: PlanNode, lines: Map<string, number>): readonly ChartProblem[] {
  const place = valuePlace(header);
  const name = header.value.toLowerCase();
  if (name === '') {
    const expected = 'a name for the plan, such as plan: side door';
    return [chartProblem('emptyPlanName', place, 'plan:', expected)];
  }
  if (name === PLAIN) {
    const expected = `a name other than ${PLAIN}, which is the chart itself`;
    return [chartProblem('reservedPlanName', place, header.value, expected)];
  }
  const sameLine = lines.get(name);
  lines.set(name, sameLine ?? header.line);
  if (sameLine === undefined) return [];
  const expected = `a name of its own; line ${sameLine} has this one`;
  return [chartProblem('duplicatePlan', place, header.value, expected)];
}

function tooManyBars(bars: readonly BarNode[]): ChartProblem {
  const place = bars[MAX_CHART_BARS]?.place ?? { line: 1, column: 1 };
  return chartProblem(
    'tooManyBars',
    place,
    `${bars.length} bars`,
    `at most ${MAX_CHART_BARS} bars`,
  );
}

/** The chart as far as it was understood. */
function assemble(
  headers: HeadersResult,
  pickup: WrittenPickup | null,
  plain: ReadPlain,
  plans: readonly { readonly name: string; readonly read: ReadBars }[],
): Chart {
  const { title, tempoBpm, meterGiven, others } = headers;
  const meter = headers.meter ?? ASSUMED_METER;
  const { block, meters } = plain.form;
  const contentOf = (contents: ReadBars['contents'], index: number): BarContent =>
    contents[index] ?? {
      kind: 'chords',
      chords: [{ ...REST, beats: beatsPerBar(meters[index] ?? meter) }],
    };
  let index = 0;
  const sections: Section[] = block.sections.map(({ name, bars }) => ({
    name,
    bars: bars.map((bar): WrittenBar => {
      const content = contentOf(plain.contents, index);
      const written = {
        ...{ content, meter: meters[index] ?? meter },
        ...barSigns(bar, plain.marks[index]),
      };
      index += 1;
      return written;
    }),
  }));
  const written: Omit<Chart, 'key' | 'keyGiven'> = {
    ...{ title: title ?? '', meter, meterGiven, tempoBpm, pickup, headers: others, sections },
    plans: plans.map(
      ({ name, read }): WrittenPlan => ({
        name,
        bars: block.bars.map((_, at) => contentOf(read.contents, at)),
      }),
    ),
  };
  const key: Key = headers.key ?? estimateKey(sections.flatMap(({ bars }) => bars));
  return { ...written, key, keyGiven: headers.key !== null };
}

const REST = { beat: 1, symbol: null, given: null } as const;

function barSigns(
  bar: BarNode,
  marks: BarMarks | undefined,
): Omit<WrittenBar, 'content' | 'meter'> {
  return {
    repeatStart: bar.repeatStart !== null,
    repeatEnd: bar.repeatEnd !== null,
    endings: bar.ending?.numbers ?? [],
    doubleAfter: bar.doubleAfter,
    startMark: marks?.startMark ?? null,
    endMark: marks?.endMark ?? null,
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
