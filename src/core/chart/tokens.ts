/** A line of bars as tokens: bar lines, words (chords, `/`, `%`, `N.C.`), palettes and meter changes. */

import { isBlank, type SourceLine } from './lines.ts';

/** What a bar line says about the bar before it and the bar after it. */
export interface BarSign {
  readonly repeatEnd: boolean;
  readonly double: boolean;
  readonly repeatStart: boolean;
  /** Number of the ending that begins after this line, or null. */
  readonly ending: number | null;
}

interface TokenPlace {
  readonly line: number;
  readonly column: number;
  /** As it stands in the file. */
  readonly text: string;
}

/** `sign` is null when the run of `|` and `:` is no bar line we know. */
export type BarLineToken = TokenPlace & {
  readonly kind: 'barLine';
  readonly sign: BarSign | null;
};
export type WordToken = TokenPlace & { readonly kind: 'word' };
/** `name` is what stands between the brackets, trimmed; `closed` is false when `>` is missing. */
export type PaletteToken = TokenPlace & {
  readonly kind: 'palette';
  readonly name: string;
  readonly nameColumn: number;
  readonly closed: boolean;
};
/** `name` is what stands between the parentheses: `3/4`. */
export type MeterToken = TokenPlace & { readonly kind: 'meter'; readonly name: string };

export type Token = BarLineToken | WordToken | PaletteToken | MeterToken;

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

/** The bar line's text for a sign; the inverse of what `tokenize` reads. */
export function formatBarSign(sign: BarSign): string {
  const row = BAR_LINES.find(
    ([, repeatEnd, double, repeatStart]) =>
      repeatEnd === sign.repeatEnd && double === sign.double && repeatStart === sign.repeatStart,
  );
  return (row?.[0] ?? '|') + (sign.ending ?? '');
}

/** Cuts one line, from a column on (default 1), into tokens. Total: whatever it meets becomes some token. */
export function tokenize(source: SourceLine, fromColumn = 1): readonly Token[] {
  const tokens: Token[] = [];
  let at = fromColumn - 1;
  while (at < source.text.length) {
    if (isBlank(source.text[at])) {
      at += 1;
      continue;
    }
    const token = readToken(source, at);
    tokens.push(token);
    at += token.text.length;
  }
  return tokens;
}

function readToken(source: SourceLine, at: number): Token {
  const first = source.text[at];
  if (first === '|' || first === ':') return readBarLine(source, at);
  if (first === '<') return readPalette(source, at);
  if (first === '(') return readMeter(source, at) ?? readWord(source, at);
  return readWord(source, at);
}

function readBarLine(source: SourceLine, at: number): BarLineToken {
  let end = at;
  while (source.text[end] === '|' || source.text[end] === ':') end += 1;
  const known = SIGN_OF.get(source.text.slice(at, end));
  const digit = /^[0-9]$/u.exec(source.text[end] ?? '')?.[0];
  const ending = digit !== undefined && known?.repeatStart === false ? Number(digit) : null;
  if (ending !== null) end += 1;
  const place = { line: source.line, column: at + 1, text: source.text.slice(at, end) };
  return { kind: 'barLine', ...place, sign: known ? { ...known, ending } : null };
}

/** From `<` to `>`; without one before the next bar line, to that bar line or the line's end. */
function readPalette(source: SourceLine, at: number): PaletteToken {
  let end = at + 1;
  while (end < source.text.length && source.text[end] !== '>' && source.text[end] !== '|') end += 1;
  const closed = source.text[end] === '>';
  const inner = source.text.slice(at + 1, end);
  return {
    kind: 'palette',
    line: source.line,
    column: at + 1,
    text: source.text.slice(at, closed ? end + 1 : end),
    name: inner.trim(),
    nameColumn: at + 2 + (inner.length - inner.trimStart().length),
    closed,
  };
}

function readMeter(source: SourceLine, at: number): MeterToken | null {
  const match = /^\(([0-9]{1,3}\/[0-9]{1,3})\)/u.exec(source.text.slice(at, at + 9));
  if (!match) return null;
  return {
    kind: 'meter',
    line: source.line,
    column: at + 1,
    text: match[0],
    name: match[1] ?? '',
  };
}

/** Up to white space, a bar line or a palette; white space inside a chord's parentheses belongs to the chord. */
function readWord(source: SourceLine, at: number): WordToken {
  let end = at;
  while (end < source.text.length && (end === at || !endsWord(source.text[end]))) {
    end = source.text[end] === '(' ? afterParenthesis(source.text, end) : end + 1;
  }
  return { kind: 'word', line: source.line, column: at + 1, text: source.text.slice(at, end) };
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
