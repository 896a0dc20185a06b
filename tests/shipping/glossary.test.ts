/**
 * The glossary of the guide for contributors: one row a word, in order, each with a file that is there; the words of grading as
 * their own page has them.
 */

import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const ROOT = join(import.meta.dirname, '..', '..');

/** The rows of the table under a heading, as lists of cells, without the head. */
function rowsUnder(page: string, heading: string): readonly (readonly string[])[] {
  const text = readFileSync(join(ROOT, page), 'utf8');
  const [, after = ''] = text.split(`\n## ${heading}\n`);
  const [table = ''] = after.split('\n## ');
  const lines = table.split('\n').filter((line) => line.startsWith('| '));
  return lines.slice(1).map((line) => line.slice(2, -2).split(' | '));
}

const glossary = rowsUnder('DEVELOPERS.md', 'Glossary');

test('each word has one row, in order, and a file it is at home in', () => {
  const words = glossary.map(([word]) => word);
  expect(words.length).toBeGreaterThan(35);
  expect(words).toEqual([...new Set(words)].toSorted());
  const homes = glossary.map(([, , home = '']) => home.replaceAll('`', ''));
  expect(homes.filter((home) => !existsSync(join(ROOT, home)))).toEqual([]);
});

test('the words of grading mean what its page says', () => {
  const ofGrading = rowsUnder('docs/grading.md', 'Words');
  expect(ofGrading.length).toBeGreaterThan(10);
  const meanings = new Map(glossary.map(([word, meaning]) => [word, meaning]));
  expect(ofGrading.map(([word]) => [word, meanings.get(word)])).toEqual(ofGrading);
});
