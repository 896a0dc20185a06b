/**
 * The one syntax tree of chart text: lines of tokens, none left out, and over them headers, bars, sections and plans as
 * they stand, before anything inside a bar is understood. The chart, its problems and their fixes, the page and every edit
 * are made from it.
 */

import type { TextPlace } from '../../problem.ts';
import type { FormMark } from '../form-marks.ts';
import { formatMeter, METERS, nearestMeter, parseMeter } from '../meter.ts';
import type { Meter } from '../model.ts';
import { type ChartProblem, chartProblem, insertAt, replace } from '../problems.ts';
import {
  type HeaderNode,
  headerOf,
  headerWithoutColon,
  type LineNode,
  readLines,
} from './lines.ts';
import {
  type BarLineToken,
  type BarSign,
  formatBarSign,
  type MarkToken,
  type MeterToken,
  type PaletteToken,
  type SectionToken,
  type Token,
  type WordToken,
} from './tokens.ts';

export type ContentToken = WordToken | PaletteToken;

/** Something at a place of the text, with its offset. */
export interface Spot extends TextPlace {
  readonly from: number;
}

/** A mark of the form as it stands. */
export interface MarkNode {
  readonly mark: FormMark;
  readonly token: MarkToken;
}

/** One bar between its bar lines. */
export interface BarNode {
  /** The first thing that stands in it, or, when it is empty, the bar line around it. */
  readonly place: TextPlace;
  readonly tokens: readonly ContentToken[];
  /** Its content as offsets, from the first thing in it to the end of the last; an empty bar has both in one place. */
  readonly from: number;
  readonly to: number;
  /** Where what stands before the content ends: its bar line, mostly. Between there and `from` is white space. */
  readonly start: number;
  /** The bar lines before and after it on its line, or null where they are missing. */
  readonly opening: BarLineToken | null;
  readonly closing: BarLineToken | null;
  readonly line: LineNode;
  /** Where `|:` stands, and so on; null where there is none. */
  readonly repeatStart: TextPlace | null;
  readonly repeatEnd: TextPlace | null;
  readonly ending: (Spot & { readonly text: string; readonly numbers: readonly number[] }) | null;
  readonly doubleAfter: boolean;
  /** A meter change written just before this bar. */
  readonly meterChange: { readonly meter: Meter | null; readonly place: TextPlace } | null;
  /** Marks between the bar before and this one, in order; those after the last bar are the block's. */
  readonly marks: readonly MarkNode[];
}

export interface SectionNode {
  readonly name: string | null;
  readonly place: TextPlace;
  readonly bars: readonly BarNode[];
}

/** The bars of the chart or of one plan. */
export interface BlockNode {
  readonly sections: readonly SectionNode[];
  readonly bars: readonly BarNode[];
  /** Marks after the last bar. */
  readonly marks: readonly MarkNode[];
  /** False when a bar line is wrong or missing, so that counting the bars would only lead astray. */
  readonly countable: boolean;
  readonly problems: readonly ChartProblem[];
}

export interface PlanNode extends BlockNode {
  readonly header: HeaderNode;
}

export interface ChartTree {
  readonly text: string;
  /** Every line, every character. */
  readonly lines: readonly LineNode[];
  /** Above the first bar, in order. */
  readonly headers: readonly HeaderNode[];
  readonly plain: BlockNode;
  readonly plans: readonly PlanNode[];
  /** Of lines that stand where none of their kind may. */
  readonly problems: readonly ChartProblem[];
}

/** The text of a tree: its tokens one after another. The inverse of `readTree`, to the letter. */
export function printTree({ lines }: Pick<ChartTree, 'lines'>): string {
  return lines.map(({ tokens }) => tokens.map(({ text }) => text).join('')).join('');
}

/** Headers stand above the first bar; `plan:` starts a plan; everything else belongs to the block it stands in. Never throws. */
export function readTree(text: string): ChartTree {
  const lines = readLines(text);
  const headers: HeaderNode[] = [];
  const problems: ChartProblem[] = [];
  const plain: LineNode[] = [];
  const plans: { readonly header: HeaderNode; readonly lines: LineNode[] }[] = [];
  for (const line of lines) {
    if (line.kind === 'blank') continue;
    const header = headerOf(line);
    const inBody = plain.length > 0 || plans.length > 0;
    if (header?.name === 'plan') plans.push({ header, lines: [] });
    else if (header !== null && !inBody) headers.push(header);
    else if (header !== null) problems.push(lateHeader(header));
    else if (line.kind === 'bars') (plans.at(-1)?.lines ?? plain).push(line);
    else problems.push(unknownLine(line));
  }
  return {
    text,
    lines,
    headers,
    plain: readBlock(plain),
    plans: plans.map((plan) => ({ header: plan.header, ...readBlock(plan.lines) })),
    problems,
  };
}

function lateHeader(header: HeaderNode): ChartProblem {
  const expected = 'header lines above the first section or bar';
  return chartProblem('headerAfterBars', header, `${header.name}: ${header.value}`, expected);
}

function unknownLine({ tokens, line }: LineNode): ChartProblem {
  const stray = tokens.find(({ kind }) => kind === 'stray');
  const text = stray?.text ?? '';
  const expected = 'a header such as tempo: 66, a section such as [A], or bars between |';
  const slip = stray === undefined ? null : headerWithoutColon(stray);
  const fix = slip && {
    ...replace(slip.word, `${slip.name}:`),
    words: `${slip.name}: ${slip.rest}`,
  };
  return chartProblem('unknownLine', stray ?? { line, column: 1 }, text, expected, fix);
}

type Mutable<Type> = { -readonly [Name in keyof Type]: Type[Name] };
type OpenBar = Mutable<BarNode>;

/** What the bar lines, meter changes and marks so far say about the bar that comes next. */
interface NextBar {
  repeatStart: BarNode['repeatStart'];
  ending: BarNode['ending'];
  meterChange: BarNode['meterChange'];
  marks: MarkNode[];
}

/** Where the walk over the tokens stands; it lives inside one call of `readBlock`. */
interface Walk {
  readonly sections: { name: string | null; place: TextPlace; bars: OpenBar[] }[];
  readonly bars: OpenBar[];
  readonly problems: ChartProblem[];
  countable: boolean;
  next: NextBar;
}

/** What lies between two bar lines of one line; null is the line's start or end. */
interface Cell {
  readonly line: LineNode;
  readonly tokens: readonly (ContentToken | MeterToken | MarkToken)[];
  readonly before: BarLineToken | null;
  readonly after: BarLineToken | null;
}

/**
 * Reads the lines of one block. The bar line that ends a line and the one that starts the next count as one: what
 * either says holds. Problems: of each line, and sections, signs and meters that no bar follows.
 */
function readBlock(lines: readonly LineNode[]): BlockNode {
  const walk: Walk = {
    ...{ sections: [], bars: [], problems: [], countable: true, next: freshNext() },
  };
  for (const line of lines) readBars(walk, line);
  closeSection(walk);
  const { marks, ...rest } = walk.next;
  walk.problems.push(...leftOver(rest));
  const { sections, bars, countable, problems } = walk;
  return { sections, bars, marks, countable, problems };
}

function freshNext(): NextBar {
  return { repeatStart: null, ending: null, meterChange: null, marks: [] };
}

function readBars(walk: Walk, line: LineNode): void {
  let before: BarLineToken | null = null;
  let cell: (ContentToken | MeterToken | MarkToken)[] = [];
  for (const token of line.tokens) {
    if (token.kind === 'section') openSection(walk, token);
    else if (token.kind === 'barLine') {
      if (before !== null || cell.length > 0)
        readCell(walk, { line, tokens: cell, before, after: token });
      readBarLine(walk, token);
      before = token;
      cell = [];
    } else if (isInCell(token)) cell.push(token);
  }
  if (cell.length === 0) return;
  readCell(walk, { line, tokens: cell, before, after: null });
  readEnd(walk, line, cell);
}

function isInCell(token: Token): token is ContentToken | MeterToken | MarkToken {
  const { kind } = token;
  return kind === 'word' || kind === 'palette' || kind === 'meter' || kind === 'mark';
}

function openSection(walk: Walk, token: SectionToken): void {
  closeSection(walk);
  const { name, closed, line, column } = token;
  walk.sections.push({ name: name === '' ? null : name, place: { line, column }, bars: [] });
  const isName = name !== '' && !name.includes('|');
  if (closed && isName) return;
  const expected = 'a section name such as [A]';
  const fix = isName ? replace(token, `[${name}]`) : null;
  walk.problems.push(chartProblem('unknownSection', token, token.text, expected, fix));
}

function closeSection({ sections, problems }: Walk): void {
  const open = sections.at(-1);
  if (open === undefined || open.bars.length > 0) return;
  const expected = 'at least one bar in the section';
  problems.push(chartProblem('emptySection', open.place, `[${open.name ?? ''}]`, expected));
}

/** Meter changes and marks stand before what is in the bar, marks also after it. */
function readCell(walk: Walk, cell: Cell): void {
  const content: ContentToken[] = [];
  const after: MarkToken[] = [];
  let lead: Token | null = cell.before;
  for (const token of cell.tokens) {
    if (content.length === 0 && (token.kind === 'meter' || token.kind === 'mark')) lead = token;
    if (token.kind === 'meter') readMeter(walk, token, content.length === 0);
    else if (token.kind === 'mark') {
      if (content.length === 0) walk.next.marks.push({ mark: token.mark, token });
      else after.push(token);
    } else {
      for (const mark of after.splice(0)) walk.problems.push(misplacedMark(mark));
      content.push(token);
    }
  }
  if (content.length > 0 || cell.tokens.length === 0) addBar(walk, cell, content, lead);
  for (const token of after) walk.next.marks.push({ mark: token.mark, token });
}

function misplacedMark(token: MarkToken): ChartProblem {
  const expected = 'this mark between two bars, not inside one';
  return chartProblem('markInsideBar', token, token.text, expected);
}

function addBar(
  walk: Walk,
  { line, before, after }: Cell,
  tokens: readonly ContentToken[],
  lead: Token | null,
): void {
  const [first, last] = [tokens[0], tokens.at(-1)];
  const around = first ?? before ?? after;
  const place = { line: around?.line ?? line.line, column: around?.column ?? 1 };
  const from = first?.from ?? (before === null ? line.from : before.from + before.text.length);
  const to = last === undefined ? from : last.from + last.text.length;
  const start = lead === null ? from : lead.from + lead.text.length;
  const bar: OpenBar = {
    ...{ place, tokens, from, to, start, opening: before, closing: after, line, ...walk.next },
    ...{ repeatEnd: null, doubleAfter: false },
  };
  if (walk.sections.length === 0) walk.sections.push({ name: null, place, bars: [] });
  walk.sections.at(-1)?.bars.push(bar);
  walk.bars.push(bar);
  walk.next = freshNext();
  if (first === undefined && after !== null) {
    const read = `${before?.text ?? ''} ${after.text}`;
    const expected = 'a chord, % or N.C. between two bar lines';
    walk.problems.push(chartProblem('emptyBar', after, read, expected));
    walk.countable = false;
  }
  if (first !== undefined && before === null) {
    const expected = 'a bar line | before the first chord of the line';
    const fix = { ...insertAt(first.from, '| '), words: `| ${first.text}` };
    walk.problems.push(chartProblem('barNotOpened', first, first.text, expected, fix));
    walk.countable = false;
  }
}

function readMeter(walk: Walk, token: MeterToken, isLeading: boolean): void {
  if (!isLeading) {
    const expected = 'a meter change before the bar, not inside it';
    walk.problems.push(chartProblem('meterInsideBar', token, token.text, expected));
    return;
  }
  const meter = parseMeter(token.name);
  const place = { line: token.line, column: token.column };
  walk.next.meterChange = { meter, place };
  if (meter !== null) return;
  const near = nearestMeter(token.name);
  const expected = `one of the meters ${METERS.map(formatMeter).join(', ')}`;
  const fix = near === null ? null : replace(token, `(${near})`);
  walk.problems.push(chartProblem('unknownMeter', token, token.text, expected, fix));
}

function readBarLine(walk: Walk, token: BarLineToken): void {
  if (token.sign !== null) {
    addSign(walk, token, token.sign);
    return;
  }
  const expected = 'one of the bar lines |  ||  |:  :|  :|:';
  const fix = replace(token, nearestBarLine(token.text));
  walk.problems.push(chartProblem('unknownBarLine', token, token.text, expected, fix));
  walk.countable = false;
}

/** The bar line that was probably meant: the same repeats, without what is too much. */
function nearestBarLine(text: string): string {
  return formatBarSign({
    repeatEnd: text.startsWith(':'),
    double: text.includes('||') && !text.includes(':'),
    repeatStart: text.endsWith(':'),
    endings: [],
  });
}

/** A bar line speaks of the bar before it, which may stand in an earlier section, and of the bar after it. */
function addSign(walk: Walk, token: BarLineToken, sign: BarSign): void {
  const before = walk.bars.at(-1);
  const place = { line: token.line, column: token.column };
  if (before === undefined && sign.repeatEnd) {
    const expected = 'bars before the end of a repeat';
    walk.problems.push(chartProblem('repeatNotOpened', place, ':|', expected));
  }
  if (before !== undefined) {
    if (sign.repeatEnd) before.repeatEnd = place;
    if (sign.double) before.doubleAfter = true;
  }
  if (sign.repeatStart) walk.next.repeatStart = place;
  if (sign.endings.length > 0) {
    const text = `|${sign.endings.join(',')}`;
    walk.next.ending = { ...place, from: token.from, text, numbers: sign.endings };
  }
}

/** A line that ends inside a bar. A bar that was not opened either has its problem already. */
function readEnd(walk: Walk, line: LineNode, cell: Cell['tokens']): void {
  const last = cell.findLast((token) => token.kind === 'word' || token.kind === 'palette');
  if (last === undefined) return;
  const end = cell.at(-1) ?? last;
  const comment = line.tokens.find(({ kind }) => kind === 'comment');
  // White space before a sharp is the usual cause: in `C7 #9 |` the rest of the line is a comment.
  const alteration = /^#[0-9]+/u.exec(comment?.text ?? '')?.[0];
  const place = {
    line: line.line,
    column: comment?.column ?? end.column + end.text.length,
  };
  const isSplit = comment !== undefined && alteration !== undefined && last.kind === 'word';
  const whole = last.text + (alteration ?? '');
  const fix = isSplit
    ? {
        ...{ from: last.from, to: comment.from + (alteration ?? '').length },
        ...{ insert: comment.text.includes('|') ? whole : `${whole} |`, words: whole },
      }
    : insertAt(end.from + end.text.length, ' |');
  const read = comment?.text.trimEnd() ?? 'the end of the line';
  walk.problems.push(
    chartProblem('barNotClosed', place, read, 'a bar line | that ends the bar', fix),
  );
  walk.countable = false;
}

/** Signs after the last bar. */
function leftOver({
  repeatStart,
  ending,
  meterChange,
}: Omit<NextBar, 'marks'>): readonly ChartProblem[] {
  const problems: ChartProblem[] = [];
  if (repeatStart !== null) {
    const expected = 'bars after the start of a repeat, then :|';
    problems.push(chartProblem('repeatNotClosed', repeatStart, '|:', expected));
  }
  if (ending !== null) {
    const expected = `bars after the start of ending ${ending.numbers.join(',')}`;
    problems.push(chartProblem('endingOutOfOrder', ending, ending.text, expected));
  }
  if (meterChange !== null) {
    const { meter, place } = meterChange;
    const read = meter === null ? 'a meter change' : `(${formatMeter(meter)})`;
    problems.push(chartProblem('meterWithoutBar', place, read, 'a bar after the meter change'));
  }
  return problems;
}
