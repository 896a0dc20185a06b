/**
 * Chart text as tokens. Every character of the text belongs to exactly one token, so the text is its tokens one after
 * another. Which characters make which token stands in `chart-text.md`.
 */

import type { TextPlace } from '../../problem.ts';
import { type FormMark, parseFormMark } from '../form-marks.ts';

/** Where a token stands: counted from 1 as problems count, and its offset in the text from 0, in UTF-16 code units. */
interface TokenPlace extends TextPlace {
  readonly from: number;
  /** As it stands in the text. */
  readonly text: string;
}

/** What a bar line says about the bar before it and the bar after it. */
export interface BarSign {
  readonly repeatEnd: boolean;
  readonly double: boolean;
  readonly repeatStart: boolean;
  /** The times through for which the ending that begins after this line is played, from 1; empty: none begins. */
  readonly endings: readonly number[];
}

/** `sign` is null when the run of `|` and `:` is no bar line we know. */
export type BarLineToken = TokenPlace & {
  readonly kind: 'barLine';
  readonly sign: BarSign | null;
};
/** A chord, `/`, `%`, `N.C.`, or what should have been one. */
export type WordToken = TokenPlace & { readonly kind: 'word' };
/** `name` is what stands between the brackets, trimmed; `closed` is false when `>` is missing. */
export type PaletteToken = TokenPlace & {
  readonly kind: 'palette';
  readonly name: string;
  readonly nameColumn: number;
  readonly closed: boolean;
};
/** A meter in parentheses between bars: `name` is what stands inside, `3/4`. */
export type MeterToken = TokenPlace & { readonly kind: 'meter'; readonly name: string };
/** `(segno)`, `(D.C. al fine)` and the like, between bars. */
export type MarkToken = TokenPlace & { readonly kind: 'mark'; readonly mark: FormMark };
/** `name` is what stands between the brackets, trimmed; `closed` is false when `]` is missing. */
export type SectionToken = TokenPlace & {
  readonly kind: 'section';
  readonly name: string;
  readonly closed: boolean;
};
/** The parts of a header line `name: value`. */
export type HeaderToken = TokenPlace & { readonly kind: 'name' | 'colon' | 'value' };
/** What says nothing about the chart, and lines that are none of its kinds. */
export type TriviaToken = TokenPlace & {
  readonly kind: 'byteOrderMark' | 'space' | 'comment' | 'lineEnd' | 'stray';
};

export type Token =
  | BarLineToken
  | WordToken
  | PaletteToken
  | MeterToken
  | MarkToken
  | SectionToken
  | HeaderToken
  | TriviaToken;

/** Where a line or a part of it stands; the columns of its text count from `column`. */
export interface Span extends TextPlace {
  readonly from: number;
  readonly text: string;
}

/** True for white space between words; `undefined` is the end of a line. */
export function isBlank(character: string | undefined): boolean {
  return character === undefined || /\s/u.test(character);
}

/** The place of what stands at an index of a span. */
export function placeIn(span: Span, at: number, text: string): TokenPlace {
  return { line: span.line, column: span.column + at, from: span.from + at, text };
}

/** Every bar line without an ending, as [text, repeat ends, double, repeat starts]. Source: `chart-text.md`. */
const BAR_LINES: readonly (readonly [string, boolean, boolean, boolean])[] = [
  ['|', false, false, false],
  ['|:', false, false, true],
  ['||', false, true, false],
  ['||:', false, true, true],
  [':|', true, false, false],
  [':|:', true, false, true],
  [':||', true, true, false],
  [':||:', true, true, true],
];

const SIGN_OF = new Map(
  BAR_LINES.map(([text, repeatEnd, double, repeatStart]) => [
    text,
    { repeatEnd, double, repeatStart },
  ]),
);

/** The bar line's text for a sign; the inverse of what `tokenizeBars` reads. */
export function formatBarSign(sign: BarSign): string {
  const row = BAR_LINES.find(
    ([, repeatEnd, double, repeatStart]) =>
      repeatEnd === sign.repeatEnd && double === sign.double && repeatStart === sign.repeatStart,
  );
  return (row?.[0] ?? '|') + sign.endings.join(',');
}

/** Cuts a part of a line of bars, without its comment, into tokens. Total: whatever it meets becomes some token. */
export function tokenizeBars(span: Span): readonly Token[] {
  const tokens: Token[] = [];
  let at = 0;
  while (at < span.text.length) {
    const token = isBlank(span.text[at]) ? readSpace(span, at) : readToken(span, at);
    tokens.push(token);
    at += token.text.length;
  }
  return tokens;
}

function readSpace(span: Span, at: number): TriviaToken {
  let end = at + 1;
  while (end < span.text.length && isBlank(span.text[end])) end += 1;
  return { kind: 'space', ...placeIn(span, at, span.text.slice(at, end)) };
}

function readToken(span: Span, at: number): Token {
  const first = span.text[at];
  if (first === '|' || first === ':') return readBarLine(span, at);
  if (first === '<') return readPalette(span, at);
  if (first === '(') return readParenthesis(span, at) ?? readWord(span, at);
  return readWord(span, at);
}

function readBarLine(span: Span, at: number): BarLineToken {
  let end = at;
  while (span.text[end] === '|' || span.text[end] === ':') end += 1;
  const known = SIGN_OF.get(span.text.slice(at, end));
  const numbers = ENDINGS.exec(span.text.slice(end, end + MAX_ENDINGS_LENGTH))?.[0] ?? '';
  const isEnding = known?.repeatStart === false;
  if (isEnding) end += numbers.length;
  const endings = isEnding && numbers !== '' ? numbers.split(',').map(Number) : [];
  return {
    kind: 'barLine',
    ...placeIn(span, at, span.text.slice(at, end)),
    sign: known ? { ...known, endings } : null,
  };
}

/** `1`, `1,3`: nobody plays a passage ten times by endings. */
const ENDINGS = /^[0-9](?:,[0-9])*(?![0-9])/u;
const MAX_ENDINGS_LENGTH = 20;

/** From `<` to `>`; without one before the next bar line, to that bar line or the line's end. */
function readPalette(span: Span, at: number): PaletteToken {
  let end = at + 1;
  while (end < span.text.length && span.text[end] !== '>' && span.text[end] !== '|') end += 1;
  const closed = span.text[end] === '>';
  const inner = span.text.slice(at + 1, end);
  return {
    kind: 'palette',
    ...placeIn(span, at, span.text.slice(at, closed ? end + 1 : end)),
    name: inner.trim(),
    nameColumn: span.column + at + 1 + (inner.length - inner.trimStart().length),
    closed,
  };
}

/** A meter or a mark of the form; null for other parentheses. */
function readParenthesis(span: Span, at: number): MeterToken | MarkToken | null {
  const match = /^\(([^()|<:]*)\)/u.exec(span.text.slice(at, at + MAX_PARENTHESIS_LENGTH));
  if (!match) return null;
  const place = placeIn(span, at, match[0]);
  const name = (match[1] ?? '').trim();
  if (/^[0-9+]+\/[0-9]+$/u.test(name)) return { kind: 'meter', ...place, name };
  const mark = parseFormMark(name);
  return mark === null ? null : { kind: 'mark', ...place, mark };
}

/** Up to white space, a bar line or a palette; white space inside a chord's parentheses belongs to the chord. */
function readWord(span: Span, at: number): WordToken {
  let end = at;
  while (end < span.text.length && (end === at || !endsWord(span.text[end]))) {
    end = span.text[end] === '(' ? afterParenthesis(span.text, end) : end + 1;
  }
  return { kind: 'word', ...placeIn(span, at, span.text.slice(at, end)) };
}

function endsWord(character: string | undefined): boolean {
  return isBlank(character) || character === '|' || character === ':' || character === '<';
}

/** Longer parentheses are no chord's; looking further would cost time on hostile text. */
const MAX_PARENTHESIS_LENGTH = 40;

function afterParenthesis(text: string, at: number): number {
  const match = /^\([^()|:<]*\)/u.exec(text.slice(at, at + MAX_PARENTHESIS_LENGTH));
  return at + (match ? match[0].length : 1);
}
