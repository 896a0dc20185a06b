/** From text to chart: lines sorted into headers, bars and plans; then each read, all problems together. */

import { failure, type Outcome, success } from '../problem.ts';
import { PLAIN } from '../words.ts';
import { type RawBar, readBlock } from './block.ts';
import { readContent } from './content.ts';
import { type HeadersResult, type RawHeader, readHeaderLine, readHeaders } from './headers.ts';
import { type SourceLine, splitLines, withoutByteOrderMark } from './lines.ts';
import { isSameMeter } from './meter.ts';
import type { BarContent, Chart, Meter, Section, WrittenBar, WrittenPlan } from './model.ts';
import { nearestOf } from './nearest.ts';
import { checkPlanForm, type PlainForm } from './plan.ts';
import { type ChartProblem, chartProblem } from './problems.ts';
import { checkRepeats } from './repeats.ts';

/** Longest text read as a chart, in UTF-16 code units; a long tune has a few thousand. */
export const MAX_CHART_LENGTH = 1024 * 1024;

/** Most bars a chart may write, plans counted apart. */
export const MAX_CHART_BARS = 10_000;

/** Most problems listed; beyond it one more says so. A text that wrong is better looked at whole. */
export const MAX_CHART_PROBLEMS = 500;

/**
 * Reads chart text (the format of `chart-text.md`; any line ends, byte order mark allowed).
 * Out: the chart, or every problem of the text in order of place, at most `MAX_CHART_PROBLEMS` and one.
 * Title, key and meter must be named: nothing is guessed. Never throws; time is bounded by the length limits.
 */
export function parseChart(text: string): Outcome<Chart, ChartProblem> {
  const unfit = checkText(text);
  if (unfit !== null) return failure(unfit);
  const parts = sortLines(splitLines(withoutByteOrderMark(text)));
  const headers = readHeaders(parts.headers);
  const plain = readPlain(parts.plain, headers.meter);
  const problems = [...parts.problems, ...headers.problems, ...plain.problems];
  const plans: WrittenPlan[] = [];
  for (const part of parts.plans) {
    if (problems.length > MAX_CHART_PROBLEMS) break;
    const plan = readPlan(part, plain.form);
    problems.push(...plan.problems);
    plans.push({ name: part.name, bars: plan.contents });
  }
  const chart = problems.length > 0 ? null : assemble(headers, plain, plans);
  return chart === null ? failure(...inOrder(problems)) : success(chart);
}

/** Control characters that no text file holds; tab, line ends and form feed are fine. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const NOT_TEXT = /[\u0000-\u0008\u000B\u000E-\u001F\u007F-\u009F\uFFFE\uFFFF]/u;

function checkText(text: string): ChartProblem | null {
  const start = { line: 1, column: 1 };
  if (text.length > MAX_CHART_LENGTH) {
    const expected = `at most ${MAX_CHART_LENGTH} characters`;
    return chartProblem('tooLong', start, `${text.length} characters`, expected);
  }
  const match = NOT_TEXT.exec(text);
  if (match === null) return null;
  const before = splitLines(text.slice(0, match.index));
  const last = before.at(-1);
  const column =
    match.index -
    Math.max(text.lastIndexOf('\n', match.index), text.lastIndexOf('\r', match.index));
  const code = (match[0].codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0');
  const place = { line: last?.line ?? 1, column };
  return chartProblem(
    'notText',
    place,
    `the character U+${code}`,
    'plain text; this is some other kind of file',
  );
}

interface PlanPart {
  readonly name: string;
  readonly line: number;
  readonly column: number;
  readonly lines: SourceLine[];
}

interface Parts {
  readonly headers: readonly RawHeader[];
  readonly plain: readonly SourceLine[];
  readonly plans: readonly PlanPart[];
  readonly problems: readonly ChartProblem[];
}

/** Headers stand above the first bar; `plan:` starts a plan; everything else belongs to the block it stands in. */
function sortLines(lines: readonly SourceLine[]): Parts {
  const headers: RawHeader[] = [];
  const plain: SourceLine[] = [];
  const plans: PlanPart[] = [];
  const problems: ChartProblem[] = [];
  for (const line of lines) {
    if (line.text.trim() === '') continue;
    const header = readHeaderLine(line);
    const inBody = plain.length > 0 || plans.length > 0;
    if (header?.name === 'plan') {
      problems.push(...checkPlanName(header, plans));
      plans.push({ name: header.value, line: line.line, column: header.valueColumn, lines: [] });
    } else if (header !== null && !inBody) headers.push(header);
    else if (header !== null) problems.push(lateHeader(header));
    else if (isBarsLine(line.text)) (plans.at(-1)?.lines ?? plain).push(line);
    else problems.push(unknownLine(line));
  }
  return { headers, plain, plans, problems };
}

function isBarsLine(text: string): boolean {
  return /^\s*[[(:|]/u.test(text) || text.includes('|');
}

function checkPlanName(header: RawHeader, plans: readonly PlanPart[]): readonly ChartProblem[] {
  const place = { line: header.line, column: header.valueColumn };
  const name = header.value.toLowerCase();
  if (name === '') {
    return [
      chartProblem('emptyPlanName', place, 'plan:', 'a name for the plan, such as plan: side door'),
    ];
  }
  if (name === PLAIN) {
    const expected = `a name other than ${PLAIN}, which is the chart itself`;
    return [chartProblem('reservedPlanName', place, header.value, expected)];
  }
  const same = plans.find((plan) => plan.name.toLowerCase() === name);
  if (same === undefined) return [];
  const expected = `a name of its own; line ${same.line} has this one`;
  return [chartProblem('duplicatePlan', place, header.value, expected)];
}

function lateHeader(header: RawHeader): ChartProblem {
  const expected = 'header lines above the first section or bar';
  return chartProblem('headerAfterBars', header, `${header.name}: ${header.value}`, expected);
}

/** A known header without its colon is the usual slip. */
function unknownLine(line: SourceLine): ChartProblem {
  const text = line.text.trim();
  const column = line.text.length - line.text.trimStart().length + 1;
  const expected = 'a header such as tempo: 66, a section such as [A], or bars between |';
  const [word = '', ...rest] = text.slice(0, 80).split(/\s+/u);
  const name = nearestOf(word, ['title', 'key', 'meter', 'tempo', 'composer', 'note', 'plan']);
  const suggestion = name === null || rest.length === 0 ? null : `${name}: ${rest.join(' ')}`;
  return chartProblem('unknownLine', { line: line.line, column }, text, expected, suggestion);
}

interface ReadBars {
  readonly contents: readonly BarContent[];
  readonly problems: readonly ChartProblem[];
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

/** The meter of each bar: that of the header until a change, then that of the change. */
function metersInForce(bars: readonly RawBar[], start: Meter | null): readonly (Meter | null)[] {
  let meter = start;
  return bars.map((bar) => {
    if (bar.meterChange !== null) meter = bar.meterChange.meter;
    return meter;
  });
}

function readContents(bars: readonly RawBar[], meters: readonly (Meter | null)[]): ReadBars {
  const contents: BarContent[] = [];
  const problems: ChartProblem[] = [];
  for (const [index, bar] of bars.entries()) {
    if (problems.length > MAX_CHART_PROBLEMS) break;
    const read = readContent(bar, meters[index] ?? null);
    problems.push(...read.problems);
    if (read.content !== null) contents.push(read.content);
  }
  return { contents, problems };
}

/** In `plain`, `%` needs a bar before it that is the same whichever way the bar is reached, and of its meter. */
function checkSames(
  bars: readonly RawBar[],
  meters: readonly (Meter | null)[],
): readonly ChartProblem[] {
  return bars.flatMap((bar, index) => {
    if (bar.tokens[0]?.text !== '%') return [];
    const [meter, before] = [meters[index], meters[index - 1]];
    if (index === 0) {
      return [chartProblem('sameWithoutBar', bar.place, '%', 'chords in the first bar')];
    }
    if (bar.repeatStart !== null || (bar.ending?.number ?? 1) > 1) {
      const expected =
        'the chords written out; after a repeat sign it is not plain which bar % repeats';
      return [chartProblem('sameAfterRepeat', bar.place, '%', expected)];
    }
    if (meter && before && !isSameMeter(meter, before)) {
      const expected = 'the chords written out; the bar before is in another meter';
      return [chartProblem('sameAcrossMeters', bar.place, '%', expected)];
    }
    return [];
  });
}

/** The chart of text without problems; null only if a part is missing all the same. */
function assemble(
  headers: HeadersResult,
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
  return { title, key, meter, tempoBpm, headers: others, sections, plans };
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
