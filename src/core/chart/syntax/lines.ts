/** Chart text as lines, each cut into its tokens. */

import { nearestWordAnyCase } from '../../nearest-word.ts';
import type { TextPlace } from '../../problem.ts';
import {
  isBlank,
  placeIn,
  type SectionToken,
  type Span,
  type Token,
  tokenizeBars,
} from './tokens.ts';

/** A line `name: value`; a known name is in lower case, others as written. `value` may be empty. */
export interface HeaderNode extends TextPlace {
  readonly name: string;
  /** Where the name as written begins and ends, as offsets. */
  readonly from: number;
  readonly to: number;
  readonly value: string;
  readonly valueColumn: number;
  readonly valueFrom: number;
  readonly source: LineNode;
}

/** One line of the text with its line end. */
export interface LineNode {
  /** From 1. */
  readonly line: number;
  /** Offset of its first character, and of the character after its line end. */
  readonly from: number;
  readonly to: number;
  /** All of it, in order. */
  readonly tokens: readonly Token[];
  readonly kind: 'blank' | 'header' | 'bars' | 'stray';
}

/** Every header name that means something, or is expected to. */
export const KNOWN_HEADERS: readonly string[] = [
  ...['title', 'key', 'meter', 'tempo', 'pickup', 'composer', 'note', 'plan'],
];

const BYTE_ORDER_MARK = '\uFEFF';

/** Splits text at `\n`, `\r\n` or `\r`; a missing last line end is fine. */
export function readLines(text: string): readonly LineNode[] {
  const lines: LineNode[] = [];
  const ends = /\r\n|\n|\r/gu;
  let from = 0;
  for (;;) {
    const end = ends.exec(text);
    const to = end?.index ?? text.length;
    lines.push(readLine(text.slice(from, to), from, lines.length + 1, end?.[0] ?? ''));
    if (end === null) return lines;
    from = to + end[0].length;
  }
}

function readLine(text: string, from: number, line: number, lineEnd: string): LineNode {
  const mark = from === 0 && text.startsWith(BYTE_ORDER_MARK) ? BYTE_ORDER_MARK : '';
  // The mark takes no column, so that columns count what the reader sees.
  const whole = { line, column: 1, from: from + mark.length, text: text.slice(mark.length) };
  const commentAt = commentStart(whole.text);
  const content = whole.text.slice(0, commentAt).trimEnd();
  const { kind, tokens } = readContent({ ...whole, text: content });
  const all: Token[] = [];
  if (mark !== '') all.push({ kind: 'byteOrderMark', line, column: 1, from, text: mark });
  for (const token of tokens) all.push(token);
  const space = whole.text.slice(content.length, commentAt);
  if (space !== '') all.push({ kind: 'space', ...placeIn(whole, content.length, space) });
  const comment = whole.text.slice(commentAt);
  if (comment !== '') all.push({ kind: 'comment', ...placeIn(whole, commentAt, comment) });
  if (lineEnd !== '') all.push({ kind: 'lineEnd', ...placeIn(whole, whole.text.length, lineEnd) });
  return { line, from, to: from + text.length + lineEnd.length, tokens: all, kind };
}

/**
 * Where the comment begins, or the line's length: a `#` at a line's start or after white space starts one, but not within
 * `<…>`, where it is a sharp; one that touches a word is a sharp too.
 */
function commentStart(text: string): number {
  let at = 0;
  /** No palette ends before this: looked for once, however many `<` there are. */
  let openUntil = 0;
  while (at < text.length) {
    const character = text[at];
    if (character === '#' && (at === 0 || isBlank(text[at - 1]))) return at;
    if (character === '<' && at >= openUntil) {
      let end = at + 1;
      while (end < text.length && text[end] !== '>' && text[end] !== '|') end += 1;
      if (text[end] === '>') at = end;
      else openUntil = end;
    }
    at += 1;
  }
  return text.length;
}

/** A line without its comment. */
function readContent(span: Span): Pick<LineNode, 'kind' | 'tokens'> {
  const start = span.text.length - span.text.trimStart().length;
  if (span.text.trim() === '') return { kind: 'blank', tokens: [] };
  const lead: readonly Token[] =
    start === 0 ? [] : [{ kind: 'space', ...placeIn(span, 0, span.text.slice(0, start)) }];
  const rest: Span = { ...placeIn(span, start, span.text.slice(start)) };
  const header = readHeader(rest);
  if (header !== null) return { kind: 'header', tokens: [...lead, ...header] };
  if (!isBarsLine(rest.text)) {
    return { kind: 'stray', tokens: [...lead, { kind: 'stray', ...rest }] };
  }
  if (rest.text[0] !== '[') return { kind: 'bars', tokens: joined(lead, tokenizeBars(rest)) };
  const section = readSection(rest);
  const length = section.text.length;
  const bars = tokenizeBars({ ...placeIn(rest, length, rest.text.slice(length)) });
  return { kind: 'bars', tokens: joined([...lead, section], bars) };
}

/** A line may hold half a million tokens: one list where it can be. */
function joined(lead: readonly Token[], rest: readonly Token[]): readonly Token[] {
  return lead.length === 0 ? rest : [...lead, ...rest];
}

function isBarsLine(text: string): boolean {
  return /^[[(:|]/u.test(text) || text.includes('|');
}

function readSection(span: Span): SectionToken {
  const end = span.text.indexOf(']');
  const text = span.text.slice(0, end < 0 ? undefined : end + 1);
  const name = text.slice(1, end < 0 ? undefined : -1).trim();
  return { kind: 'section', ...placeIn(span, 0, text), name, closed: end >= 0 };
}

const NAME = /^\p{L}[\p{L}\p{N} _-]{0,39}$/u;

/** Reads `name: value`; null when the line is no header (bars with repeat signs hold a colon too). */
function readHeader(span: Span): readonly Token[] | null {
  const colon = span.text.indexOf(':');
  if (colon < 0 || span.text[colon + 1] === '|') return null;
  const name = span.text.slice(0, colon).trimEnd();
  if (!NAME.test(name)) return null;
  const value = span.text.slice(colon + 1).trimStart();
  const parts = [
    ['name', name],
    ['space', span.text.slice(name.length, colon)],
    ['colon', ':'],
    ['space', span.text.slice(colon + 1, span.text.length - value.length)],
    ['value', value],
  ] as const;
  let at = 0;
  const tokens: Token[] = [];
  for (const [kind, text] of parts) {
    if (text !== '') tokens.push({ kind, ...placeIn(span, at, text) });
    at += text.length;
  }
  return tokens;
}

/** What a line of kind `header` says; null for any other. */
export function headerOf(source: LineNode): HeaderNode | null {
  if (source.kind !== 'header') return null;
  const name = source.tokens.find(({ kind }) => kind === 'name');
  const colon = source.tokens.find(({ kind }) => kind === 'colon');
  if (name === undefined || colon === undefined) return null;
  const value = source.tokens.find(({ kind }) => kind === 'value') ?? {
    ...{ column: colon.column + 1, from: colon.from + 1, text: '' },
  };
  const known = KNOWN_HEADERS.find((one) => one === name.text.toLowerCase());
  return {
    line: source.line,
    column: name.column,
    name: known ?? name.text,
    from: name.from,
    to: name.from + name.text.length,
    value: value.text,
    valueColumn: value.column,
    valueFrom: value.from,
    source,
  };
}

/** A line without its colon, the usual slip. */
export interface HeaderSlip {
  /** The word that should be a header's name, where it stands. */
  readonly word: { readonly from: number; readonly text: string };
  readonly name: string;
  readonly rest: string;
}

/** The known header that a line without its colon probably is; null where none is near. */
export function headerWithoutColon({ from, text }: Token): HeaderSlip | null {
  const word = /^\S{1,40}(?=\s)/u.exec(text)?.[0] ?? '';
  const name = nearestWordAnyCase(word, KNOWN_HEADERS);
  const rest = text.slice(word.length).trim();
  return name === null || rest === '' ? null : { word: { from, text: word }, name, rest };
}
