/**
 * Style sheets come with their screens and stay when another is opened: a class that two of them describe would look
 * different after a walk than before it.
 */

import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const renderer = join(import.meta.dirname, '..', '..', 'src', 'renderer');

/** The classes that selectors begin with. */
function classesOf(sheet: string): ReadonlySet<string> {
  const bare = sheet.replaceAll(/\/\*.*?\*\//gsu, '');
  const selectors = [...bare.matchAll(/([^{}]+)\{/gu)].flatMap(([, list = '']) => list.split(','));
  return new Set(selectors.flatMap((selector) => /^\s*\.([\w-]+)/u.exec(selector)?.[1] ?? []));
}

test('every class is described in one style sheet alone', () => {
  const files = globSync('**/*.css', { cwd: renderer });
  const described = files.flatMap((file) =>
    [...classesOf(readFileSync(join(renderer, file), 'utf8'))].map((name) => ({ name, file })),
  );
  expect(described.length).toBeGreaterThan(100);
  const twice = [...Map.groupBy(described, ({ name }) => name)].filter(([, own]) => own.length > 1);
  expect(twice.map(([name, own]) => [name, ...own.map(({ file }) => file)])).toEqual([]);
});
