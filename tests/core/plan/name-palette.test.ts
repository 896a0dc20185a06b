/** Palettes named in words for the chord on a beat. */

import { describe, expect, test } from 'vitest';
import { formatChart } from '../../../src/core/chart/index.ts';
import { chordOnBeat, namePalette } from '../../../src/core/plan/index.ts';
import { chartOf } from '../chart/reading.ts';
import { barsOfPlan } from './planning.ts';

const CHART = chartOf('title: a\nkey: C\nmeter: 4/4\n| Dm7 / / G7 | % | N.C. / Gm7 / |\n');

describe('the chord on a beat', () => {
  test.each([
    [0, 1, 0],
    [0, 3, 0],
    [0, 4, 1],
    [1, 4, 1],
    [2, 3, 1],
  ])('of bar %i, beat %i, is chord %i', (bar, beat, chord) => {
    expect(chordOnBeat(CHART, 'plain', { bar, beat })).toEqual({ bar, chord });
  });

  test.each([
    [0, 0],
    [0, 5],
    [2, 2],
    [3, 1],
    [-1, 1],
  ])('of bar %i, beat %i, is none', (bar, beat) => {
    expect(chordOnBeat(CHART, 'plain', { bar, beat })).toBeNull();
  });
});

describe('a palette named in words', () => {
  test('goes to the chord on the beat, in the chart or in a plan', () => {
    const inPlain = namePalette(CHART, 'plain', { bar: 0, beat: 2 }, 'chord', ' dorian ');
    expect(inPlain.ok && formatChart(inPlain.value)).toContain('| Dm7 <dorian> / / G7 |');
    const inPlan = namePalette(CHART, 'mine', { bar: 1, beat: 1 }, 'quality', 'D F G A C');
    expect(inPlan.ok && barsOfPlan(inPlan.value, 'mine')).toEqual([
      'Dm7 <D F G A C> / / G7',
      'Dm7 <D F G A C> / / G7',
      'N.C. Gm7 <G Bb C D F>',
    ]);
    expect(inPlan.ok && inPlan.value.sections).toEqual(CHART.sections);
  });

  test('is taken away by none', () => {
    const set = namePalette(CHART, 'plain', { bar: 0, beat: 1 }, 'chord', 'aeolian');
    const bare = set.ok && namePalette(set.value, 'plain', { bar: 0, beat: 1 }, 'chord', null);
    expect(bare).toEqual({ ok: true, value: CHART });
  });

  test.each([
    ['plain', 9, 'dorian', 'noChord'],
    ['plain', 2, 'dorian', 'noChord'],
    ['plain', 0, 'doriam', 'scale'],
    ['plain', 0, 'C D H', 'note'],
    ['PLAIN', 0, 'dorian', 'reservedPlanName'],
    ['', 0, 'dorian', 'emptyPlanName'],
  ])('in plan “%s”, bar %i, as “%s” is refused: %s', (plan, bar, text, code) => {
    const outcome = namePalette(CHART, plan, { bar, beat: 1 }, 'chord', text);
    expect(outcome.ok ? [] : outcome.problems.map((problem) => problem.code)).toEqual([code]);
  });
});
