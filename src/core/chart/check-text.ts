/** Whether a text can be a chart at all, before it is read. */

import { type ChartProblem, chartProblem } from './problems.ts';

/** Longest text read as a chart, in UTF-16 code units; a long tune has a few thousand. */
export const MAX_CHART_LENGTH = 1024 * 1024;

/** Control characters that no text file holds; tab, line ends and form feed are fine. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const NOT_TEXT = /[\u0000-\u0008\u000B\u000E-\u001F\u007F-\u009F\uFFFE\uFFFF]/u;

/** In: the text without its byte order mark. Problems: `tooLong`, `notText`; null when the text may be read. */
export function checkText(text: string): ChartProblem | null {
  const start = { line: 1, column: 1 };
  if (text.length > MAX_CHART_LENGTH) {
    const expected = `at most ${MAX_CHART_LENGTH} characters`;
    return chartProblem('tooLong', start, `${text.length} characters`, expected);
  }
  const match = NOT_TEXT.exec(text);
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
