/** Who cites a page of the docs with sections, as in `grading.md`, "Changes" and "Left hand", cites such as are there. */

import { existsSync, globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const ROOT = join(import.meta.dirname, '..', '..');

const CITED = /(?:docs\/)?([\w-]+\.md)[`)]?((?:(?:,| and|, and| \()\s*"[^"]+")+)/gu;

/** The headings of a page, without their marks; none of a page that is not there. */
function headingsOf(page: string): readonly string[] {
  const path = join(ROOT, 'docs', page);
  if (!existsSync(path)) return [];
  return [...readFileSync(path, 'utf8').matchAll(/^#+ (.+)$/gmu)].map(
    ([, heading = '']) => heading,
  );
}

/** All sections that a file cites. A comment may go on in the next line. */
function citedIn(text: string): readonly { readonly page: string; readonly section: string }[] {
  const joined = text.replaceAll(/\s*\n\s*(?:\*|\/\/) /gu, ' ');
  return [...joined.matchAll(CITED)].flatMap(([, page = '', list = '']) =>
    [...list.matchAll(/"([^"]+)"/gu)].map(([, section = '']) => ({ page, section })),
  );
}

test('every section of the docs that is cited is there', () => {
  const files = globSync('{*.md,{docs,src,shared,scripts,tests}/**/*.{md,ts,tsx,mjs,css}}', {
    cwd: ROOT,
  });
  const cited = files.flatMap((file) =>
    citedIn(readFileSync(join(ROOT, file), 'utf8')).map((citation) => ({ file, ...citation })),
  );
  expect(cited.length).toBeGreaterThan(70);
  const headings = new Map(cited.map(({ page }) => [page, headingsOf(page)]));
  expect(
    cited.filter(({ page, section }) => headings.get(page)?.includes(section) !== true),
  ).toEqual([]);
});

/** The comments of a file, each in one line. */
function commentsOf(text: string): readonly string[] {
  const comments = text.match(/\/\*\*.*?\*\/|(?:^[ ]*\/\/[^\n]*\n)+/gmsu) ?? [];
  return comments.map((comment) => comment.replaceAll(/\s*\n\s*(?:\*|\/\/) /gu, ' '));
}

/** Words alone: without case, marks of the page, and the stop at the end. */
function plain(text: string): string {
  return text
    .replaceAll(/[`*]/gu, '')
    .replaceAll(/\s+/gu, ' ')
    .replace(/[.,;]$/u, '')
    .toLowerCase();
}

test('what the second grader quotes of its rules stands in them', () => {
  const pages = ['grading.md', 'reports.md', 'chart-text.md'].map((page) =>
    plain(readFileSync(join(ROOT, 'docs', page), 'utf8')),
  );
  const quoted = globSync('tests/reference/grading/*.ts', { cwd: ROOT }).flatMap((file) =>
    commentsOf(readFileSync(join(ROOT, file), 'utf8')).flatMap((comment) =>
      [...comment.matchAll(/"([^"]+)"/gu)].map(([, quote = '']) => ({ file, quote })),
    ),
  );
  expect(quoted.length).toBeGreaterThan(40);
  const missing = quoted.filter(({ quote }) => !pages.some((page) => page.includes(plain(quote))));
  expect(missing).toEqual([]);
});
