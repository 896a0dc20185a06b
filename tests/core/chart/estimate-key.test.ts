/** The key of a chart without one. The charts of the program are in the keys they name; further cases are common practice, no source. */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import {
  applyEdits,
  chartJson,
  formatChart,
  keyEdit,
  transposeToKey,
} from '../../../src/core/chart/index.ts';
import { formatKey } from '../../../src/core/theory/index.ts';
import { chartOf, formOf } from './reading.ts';

const CHARTS = join(import.meta.dirname, '..', '..', '..', 'shared', 'charts');
const without = (text: string): string => text.replace(/^key:.*\n/mu, '');
const keyOf = (bars: string): string => formatKey(chartOf(`title: a\n${bars}\n`).key);

describe('an estimated key', () => {
  /** It goes through all twelve keys alike. */
  const WANDERING = 'twelve-lamps';

  test.each(
    readdirSync(CHARTS)
      .map((file) => file.replace(/\.chart$/u, ''))
      .filter((name) => name !== WANDERING),
  )('of %s is the one it names', (name) => {
    const text = readFileSync(join(CHARTS, `${name}.chart`), 'utf8');
    const chart = chartOf(without(text));
    expect([formatKey(chart.key), chart.keyGiven]).toEqual([formatKey(chartOf(text).key), false]);
  });

  test.each([
    ['| Dm7 | G7 | Cmaj7 | % |', 'C'],
    ['| Dm7b5 | G7b9 | Cm6 | % |', 'Cm'],
    ['| F7 | Bb7 | F7 | C7 |', 'F'],
    ['| Ebm7 | Ab7 | Dbmaj7 | % |', 'Db'],
    ['| F#m7b5 | B7 | Em | % |', 'Em'],
    ['| N.C. | % |', 'C'],
    ['| G |', 'G'],
    ['| Am |', 'Am'],
  ])('of %s is %s', (bars, key) => {
    expect(keyOf(bars)).toBe(key);
  });

  test('moves with the chart', () => {
    const chart = chartOf('title: a\nkey: C\n| Dm7 | G7 | Cmaj7 | Am7 |\n');
    for (const tonic of [-5, -4, -3, -2, -1, 1, 2, 3, 4, 5]) {
      const moved = transposeToKey(chart, { tonic, mode: 'major' });
      const text = moved.ok ? without(formatChart(moved.value)) : '';
      expect(chartOf(text).key).toEqual({ tonic, mode: 'major' });
    }
  });

  test('is told as estimated, is not written, and is written by one edit', () => {
    const text = '# mine\ntitle: Pier Lights\n| Cm7 | F7 | Bbmaj7 | % |\n';
    const chart = chartOf(text);
    expect(formatChart(chart)).not.toContain('key:');
    expect(chartOf(formatChart(chart))).toEqual(chart);
    expect(chartJson(chart, formOf(chart))).toMatchObject({ key: 'Bb', keyGiven: false });
    const named = applyEdits(text, [keyEdit(text, formatKey(chart.key))]);
    expect(named).toBe('# mine\ntitle: Pier Lights\nkey: Bb\n| Cm7 | F7 | Bbmaj7 | % |\n');
    expect(chartOf(named)).toEqual({ ...chart, keyGiven: true });
  });
});
