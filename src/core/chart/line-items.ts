/** One line of the body, cut into what it brings: a section's name, bar lines, bars, meter changes. */

import { nearestWordAnyCase } from '../nearest-word.ts';
import type { TextPlace } from '../problem.ts';
import type { SourceLine } from './lines.ts';
import { formatMeter, METERS, parseMeter } from './meter.ts';
import type { Meter } from './model.ts';
import { type ChartProblem, chartProblem } from './problems.ts';
import {
  type BarLineToken,
  type BarSign,
  formatBarSign,
  type MeterToken,
  type PaletteToken,
  type Token,
  tokenize,
  type WordToken,
} from './tokens.ts';

export type ContentToken = WordToken | PaletteToken;

export type LineItem =
  | { readonly kind: 'section'; readonly name: string | null; readonly place: TextPlace }
  | { readonly kind: 'barLine'; readonly sign: BarSign; readonly place: TextPlace }
  | { readonly kind: 'bar'; readonly tokens: readonly ContentToken[]; readonly place: TextPlace }
  | { readonly kind: 'meter'; readonly meter: Meter | null; readonly place: TextPlace };

export interface LineItems {
  readonly items: readonly LineItem[];
  /** False when a bar line is wrong or missing, so that counting the bars would only lead astray. */
  readonly countable: boolean;
  readonly problems: readonly ChartProblem[];
}

/** What lies between two bar lines of one line; null is the line's start or end. */
interface Cell {
  readonly tokens: readonly (ContentToken | MeterToken)[];
  readonly before: BarLineToken | null;
  readonly after: BarLineToken | null;
}

/** Reads one line of the body. Problems: those that can be seen without the lines around it. */
export function readLineItems(line: SourceLine): LineItems {
  const start = line.text.length - line.text.trimStart().length;
  if (line.text[start] !== '[') return readBars(line, tokenize(line));
  const section = readSection(line, start);
  const end = line.text.indexOf(']', start);
  return end < 0 ? section : joined([section, readBars(line, tokenize(line, end + 2))]);
}

function joined(parts: readonly LineItems[]): LineItems {
  const [only] = parts;
  if (only !== undefined && parts.length === 1) return only;
  // A line may hold half a million bars: one loop, not three with a list for each part.
  const items: LineItem[] = [];
  const problems: ChartProblem[] = [];
  let countable = true;
  for (const part of parts) {
    for (const item of part.items) items.push(item);
    for (const problem of part.problems) problems.push(problem);
    countable &&= part.countable;
  }
  return { items, countable, problems };
}

function readSection(line: SourceLine, start: number): LineItems {
  const end = line.text.indexOf(']', start);
  const name = line.text.slice(start + 1, end < 0 ? undefined : end).trim();
  const place = { line: line.line, column: start + 1 };
  const section = { kind: 'section' as const, name: name === '' ? null : name, place };
  const isName = name !== '' && !name.includes('|');
  if (end >= 0 && isName) return { items: [section], countable: true, problems: [] };
  const read = line.text.slice(start);
  const nearest = isName ? `[${name}]` : null;
  const problem = chartProblem(
    'unknownSection',
    place,
    read,
    'a section name such as [A]',
    nearest,
  );
  return { items: [section], countable: true, problems: [problem] };
}

function readBars(line: SourceLine, tokens: readonly Token[]): LineItems {
  const parts: LineItems[] = [];
  let before: BarLineToken | null = null;
  let cell: (ContentToken | MeterToken)[] = [];
  for (const token of tokens) {
    if (token.kind !== 'barLine') {
      cell.push(token);
      continue;
    }
    if (before !== null || cell.length > 0)
      parts.push(readCell({ tokens: cell, before, after: token }));
    parts.push(readBarLine(token));
    before = token;
    cell = [];
  }
  if (cell.length > 0)
    parts.push(readCell({ tokens: cell, before, after: null }), readEnd(line, cell));
  return joined(parts);
}

function readCell(cell: Cell): LineItems {
  const content = cell.tokens.filter((token) => token.kind !== 'meter');
  const changes = cell.tokens.filter((token) => token.kind === 'meter');
  const leading = cell.tokens.findIndex((token) => token.kind !== 'meter');
  const parts = changes.map((token, index) =>
    leading < 0 || index < leading ? readMeter(token) : misplacedMeter(token),
  );
  return joined(
    content.length === 0 && changes.length > 0 ? parts : [...parts, readBar(cell, content)],
  );
}

function readBar({ before, after }: Cell, content: readonly ContentToken[]): LineItems {
  const first = content[0];
  const { line, column } = first ?? before ?? after ?? { line: 1, column: 1 };
  const items = [{ kind: 'bar' as const, tokens: content, place: { line, column } }];
  if (first === undefined && after !== null) {
    const read = `${before?.text ?? ''} ${after.text}`;
    const expected = 'a chord, % or N.C. between two bar lines';
    return { items, countable: false, problems: [chartProblem('emptyBar', after, read, expected)] };
  }
  if (first === undefined || before !== null) return { items, countable: true, problems: [] };
  const expected = 'a bar line | before the first chord of the line';
  const problem = chartProblem('barNotOpened', first, first.text, expected, `| ${first.text}`);
  return { items, countable: false, problems: [problem] };
}

function misplacedMeter(token: MeterToken): LineItems {
  const expected = 'a meter change before the bar, not inside it';
  const problem = chartProblem('meterInsideBar', token, token.text, expected);
  return { items: [], countable: true, problems: [problem] };
}

function readMeter(token: MeterToken): LineItems {
  const meter = parseMeter(token.name);
  const place = { line: token.line, column: token.column };
  const items = [{ kind: 'meter' as const, meter, place }];
  if (meter !== null) return { items, countable: true, problems: [] };
  const names = METERS.map(formatMeter);
  const near = nearestWordAnyCase(token.name, names);
  const expected = `one of the meters ${names.join(', ')}`;
  const nearest = near === null ? null : `(${near})`;
  const problem = chartProblem('unknownMeter', token, token.text, expected, nearest);
  return { items, countable: true, problems: [problem] };
}

function readBarLine(token: BarLineToken): LineItems {
  const place = { line: token.line, column: token.column };
  if (token.sign !== null) {
    return { items: [{ kind: 'barLine', sign: token.sign, place }], countable: true, problems: [] };
  }
  const expected = 'one of the bar lines |  ||  |:  :|  :|:';
  const problem = chartProblem(
    'unknownBarLine',
    place,
    token.text,
    expected,
    nearestBarLine(token.text),
  );
  return { items: [], countable: false, problems: [problem] };
}

/** The bar line that was probably meant: the same repeats, without what is too much. */
function nearestBarLine(text: string): string {
  return formatBarSign({
    repeatEnd: text.startsWith(':'),
    double: text.includes('||') && !text.includes(':'),
    repeatStart: text.endsWith(':'),
    ending: null,
  });
}

/** A line that ends inside a bar. A bar that was not opened either has its problem already. */
function readEnd(line: SourceLine, cell: readonly Token[]): LineItems {
  const last = cell.findLast((token) => token.kind !== 'meter');
  if (last === undefined) return { items: [], countable: true, problems: [] };
  const { comment } = line;
  // White space before a sharp is the usual cause: in `C7 #9 |` the rest of the line is a comment.
  const alteration = /^#[0-9]+/u.exec(comment?.text ?? '')?.[0];
  const problem = chartProblem(
    'barNotClosed',
    { line: line.line, column: comment?.column ?? line.text.length + 1 },
    comment?.text ?? 'the end of the line',
    'a bar line | that ends the bar',
    alteration === undefined ? '|' : last.text + alteration,
  );
  return { items: [], countable: false, problems: [problem] };
}
