/** Whether a text can be a chart at all, before it is read. */

import { type ChartProblem, chartProblem } from './problems.ts';

/** Longest text read as a chart, in UTF-16 code units; a long tune has a few thousand. */
export const MAX_CHART_LENGTH = 1024 * 1024;

/** So much of a text shows what kind it is of. */
const MAX_OPENING = 1000;

/** Control characters that no text file holds; tab, line ends and form feed are fine. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const NOT_TEXT = /[\u0000-\u0008\u000B\u000E-\u001F\u007F-\u009F\uFFFE\uFFFF]/u;

/** How files of other kinds begin that are text too: a name in brackets and then a brace, as of settings in blocks; data; markup. */
const OTHER_KIND = /^\s*(?:\[[^\]\r\n]*\]\s*\{|\{|<[?!a-z])/iu;

/** In: the text without its byte order mark. Problems: `tooLong`, `notText`, `otherKind`; null when the text may be read. */
export function checkText(text: string): ChartProblem | null {
  const start = { line: 1, column: 1 };
  if (text.length > MAX_CHART_LENGTH) {
    const expected = `at most ${MAX_CHART_LENGTH} characters`;
    return chartProblem('tooLong', start, `${text.length} characters`, expected);
  }
  const match = NOT_TEXT.exec(text);
  const other = OTHER_KIND.exec(text.slice(0, MAX_OPENING))?.[0];
  if (match === null && other !== undefined) {
    const expected =
      'the chords of a tune as text, with bars between |; this is a file of another program whose name ends alike';
    return chartProblem('otherKind', start, other.trim().replace(/\s+/gu, ' '), expected);
  }
  if (match === null) return null;
  const before = text.slice(0, match.index).split(/\r\n|\n|\r/u);
  const code = (match[0].codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0');
  const place = { line: before.length, column: (before.at(-1) ?? '').length + 1 };
  return chartProblem(
    'notText',
    place,
    `the character U+${code}`,
    'plain text; this is some other kind of file',
  );
}
