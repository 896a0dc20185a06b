/** Chart text as lines: places counted, comments taken off. */

/** A `#` that starts a comment, with what follows it on the line. Columns count from 1. */
export interface Comment {
  readonly column: number;
  readonly text: string;
}

export interface SourceLine {
  /** From 1. */
  readonly line: number;
  /** Without the comment and without white space at the end; columns are those of the file. */
  readonly text: string;
  readonly comment: Comment | null;
}

const BYTE_ORDER_MARK = '\uFEFF';

/** Takes the byte order mark off the start, so that columns count what the reader sees. */
export function withoutByteOrderMark(text: string): string {
  return text.startsWith(BYTE_ORDER_MARK) ? text.slice(1) : text;
}

/** Splits text at `\n`, `\r\n` or `\r`; a missing last line end is fine. */
export function splitLines(text: string): readonly SourceLine[] {
  return text.split(/\r\n|\n|\r/u).map((line, index) => sourceLine(line, index + 1));
}

/** A `#` at a line's start or after white space starts a comment; one that touches a word is a sharp. */
function sourceLine(text: string, line: number): SourceLine {
  let at = text.indexOf('#');
  while (at > 0 && !isBlank(text[at - 1])) at = text.indexOf('#', at + 1);
  if (at < 0) return { line, text: text.trimEnd(), comment: null };
  const comment = { column: at + 1, text: text.slice(at).trimEnd() };
  return { line, text: text.slice(0, at).trimEnd(), comment };
}

/** True for white space between words; `undefined` is the end of a line. */
export function isBlank(character: string | undefined): boolean {
  return character === undefined || /\s/u.test(character);
}
