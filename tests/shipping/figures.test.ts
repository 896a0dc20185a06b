/** The figures: one document of ratios and distributions, whose page is what it says. No time is judged. */

import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { distribution, percentile, ratio } from '../bench/bench.ts';
import { documentSchema, figureWords } from '../bench/document.ts';
import { figuresPage } from '../bench/figures-page.ts';

const root = join(import.meta.dirname, '..', '..');

test('the page has one row for each kind of ratio with an aim, the worst of it', () => {
  const at = (name: string, value: number, aim: number | null) =>
    ratio(name, 'ms', ['ours', value], ['theirs', 1], aim);
  const document = documentSchema.parse({
    schema: 'linekeeper.bench/2',
    date: '2026-11-30',
    effort: 'full',
    machine: {
      ...{ node: 'v1', platform: 'any', processors: 2, processor: 'one' },
      load: { before: 0.5, after: 3 },
    },
    results: [
      {
        title: 'Lines',
        about: '',
        measures: [
          { name: 'short', how: '', figures: [at('median, 8 bars', 0.5, 1), at('size', 9, null)] },
          { name: 'long', how: '', figures: [at('median, 32 bars', 1.5, 1), at('lost', 0, 0)] },
          { name: 'longer', how: '', figures: [at('median, 64 bars', 2, 3), at('lost', 2, 0)] },
        ],
      },
    ],
  });
  const rows = figuresPage(document)
    .split('\n')
    .filter((line) => line.startsWith('| Lines'));
  expect(rows).toEqual([
    '| Lines | median | 1 | **1.5** | long |',
    '| Lines | lost | 0 | **2** | longer |',
  ]);
  expect(figuresPage(document)).toContain('more spread than on a machine at rest');
});

test('a run prints one document of the schema, and nothing else', () => {
  const out = execFileSync(
    process.execPath,
    [join(root, 'tests', 'bench', 'run.ts'), '--json', '--short', 'progress'],
    { encoding: 'utf8' },
  );
  const { results, effort } = documentSchema.parse(JSON.parse(out));
  expect(effort).toBe('short');
  expect(results.map(({ title }) => title)).toEqual(['Progress']);
});

test('a distribution has the percentiles of its samples, in any order', () => {
  // 1 to 100: the value below which 95 of 100 lie is the 96th.
  const samples = Array.from({ length: 100 }, (_, index) => ((index * 37) % 100) + 1);
  expect(distribution('a', 'ms', samples)).toEqual({
    ...{ kind: 'distribution', name: 'a', unit: 'ms', samples: 100 },
    ...{ median: 51, p95: 96, p99: 100, largest: 100 },
  });
  expect(percentile([3, 1, 2], 0)).toBe(1);
});

test('figures are told with three digits, their aim and what they are made of', () => {
  expect(figureWords(ratio('whole', 'ms', ['ours', 1234.56], ['aim', 1000], 1))).toEqual([
    'whole',
    '1.23, aim at most 1 (ours 1235, aim 1000 ms)',
  ]);
  expect(figureWords(distribution('a', 'µs', [0.000123456, 0.5, 12.3456]))).toEqual([
    'a',
    'median 0.5 µs (p95 12.3, p99 12.3, largest 12.3; 3 samples)',
  ]);
});
