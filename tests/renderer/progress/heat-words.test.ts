/** Rows and columns of the pictures over takes: figures come over the bridge, words are made here. */

import { expect, test } from 'vitest';
import { axisWords } from '../../../src/renderer/screens/progress/heat-words.ts';

test('faults and bars', () => {
  const axes = { picture: 'rulesByBars', rows: ['outside', 'change'], columns: [1, 12] } as const;
  expect(axisWords({ axes })).toEqual({ rows: ['outside', 'late change'], columns: ['1', '12'] });
});

test('weeks, by their Mondays', () => {
  const monday = Date.UTC(2026, 2, 9) / 86_400_000;
  const axes = { picture: 'weeksByBars', rows: [monday], columns: [3] } as const;
  expect(axisWords({ axes })).toEqual({ rows: ['2026-03-09'], columns: ['3'] });
});

test('kinds of chord and roots', () => {
  const rows = ['halfDiminished', 'dominant'] as const;
  const axes = { picture: 'chordsByRoots', rows, columns: [0, 10] } as const;
  expect(axisWords({ axes })).toEqual({
    rows: ['half-diminished', 'dominant'],
    columns: ['C', 'B♭'],
  });
});

test('changes and how late they came', () => {
  const rows = [
    { bar: 4, beat: 1, toChord: 'Bb7' },
    { bar: 5, beat: 3, toChord: 'Ebmaj7' },
  ];
  const axes = { picture: 'changesByLateness', rows, columns: ['by1', 'unproven'] } as const;
  expect(axisWords({ axes })).toEqual({
    rows: ['B♭7 in bar 4', 'E♭maj7 in bar 5, beat 3'],
    columns: ['1 slot late', 'unproven'],
  });
});
