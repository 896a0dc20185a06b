/** The rate of gain: own rules at the head of `rate-of-gain.ts`; its interval proves itself on players whose rate is known. */

import { describe, expect, test } from 'vitest';
import { describeGain, rateOfGain } from '../../../src/core/progress/index.ts';
import { gainCoverage } from './simulated-gain.ts';
import { NOW_MS, type TakeWish, take } from './takes.ts';

const gainOf = (...wishes: readonly TakeWish[]) =>
  rateOfGain({ takes: wishes.map(take) }, NOW_MS, 0);

const days = (...played: readonly (readonly [daysAgo: number, tempoBpm: number])[]) =>
  gainOf(...played.map(([daysAgo, tempoBpm]) => ({ daysAgo, tempoBpm })));

describe('nothing is told', () => {
  test('under five days', () => {
    expect(days([20, 60], [14, 62], [7, 64], [0, 66])).toMatchObject({
      kind: 'tooThin',
      missingDays: 1,
      missingSpanDays: 0,
    });
    expect(days([20, 60], [14, 62], [7, 64], [3, 65], [0, 66]).kind).toBe('gain');
  });

  test('within less than a week', () => {
    const close = days([6, 60], [5, 60], [3, 62], [1, 62], [0, 64]);
    expect(close).toMatchObject({ kind: 'tooThin', missingDays: 0, missingSpanDays: 1 });
    expect(days([7, 60], [5, 60], [3, 62], [1, 62], [0, 64]).kind).toBe('gain');
    expect(describeGain(close)).toBe(
      'Too little to tell a rate of gain: its days must lie 1 more day further apart.',
    );
  });

  test('from takes older than eight weeks, or none at all', () => {
    expect(days([56, 60], [14, 62], [7, 64], [3, 65], [0, 66])).toMatchObject({ missingDays: 1 });
    expect(days([55, 60], [14, 62], [7, 64], [3, 65], [0, 66]).kind).toBe('gain');
    expect(gainOf()).toMatchObject({ kind: 'tooThin', missingDays: 5, missingSpanDays: 7 });
  });
});

test('the tempo of a day is the fastest clean one with slots enough', () => {
  const { days: told } = gainOf(
    { daysAgo: 2, tempoBpm: 60 },
    { daysAgo: 2, tempoBpm: 64, clean: 58 },
    { daysAgo: 2, tempoBpm: 66, clean: 57 },
    { daysAgo: 2, tempoBpm: 90, slots: 31 },
    { daysAgo: 1, tempoBpm: 80, clean: 50 },
    { daysAgo: 0, tempoBpm: 62, slots: 16 },
    { daysAgo: 0, tempoBpm: 62, slots: 16 },
  );
  expect(told.map(({ tempoBpm }) => tempoBpm)).toEqual([64, 62]);
});

test('a steady rise is told per week; days in line are no surer than whole beats allow', () => {
  const steady = days([28, 60], [21, 62], [14, 64], [7, 66], [0, 68]);
  // Squares of weeks about their mean: 10; t for 3 degrees of freedom: 3.182 (printed table).
  const reach = 3.182 * Math.sqrt(1 / 12 / 10);
  if (steady.kind !== 'gain') throw new Error('five days over four weeks are enough');
  expect(steady.bpmPerWeek).toBeCloseTo(2, 10);
  expect(steady.lower).toBeCloseTo(2 - reach, 3);
  expect(steady.upper).toBeCloseTo(2 + reach, 3);
});

test('words say a direction only when the interval has one', () => {
  const rising = describeGain(days([28, 60], [21, 62], [14, 64], [7, 66], [0, 68]));
  expect(rising).toMatch(/^The clean tempo rises by 2\.0 a week, likely between 1\.7 and 2\.3 /);
  const falling = describeGain(days([28, 68], [21, 66], [14, 64], [7, 62], [0, 60]));
  expect(falling).toMatch(/^The clean tempo falls by 2\.0 a week, likely between −2\.3 and −1\.7 /);
  const open = describeGain(days([28, 60], [21, 70], [14, 61], [7, 69], [0, 64]));
  expect(open).toMatch(/cannot be told yet: between −\d/);
});

describe('the interval stated as 95 %', () => {
  test('covers the true rate of 93 to 97 in a hundred simulated players', () => {
    const { told, covered } = gainCoverage(3000, { carry: 0 }, 1);
    expect(told).toBeGreaterThan(2500);
    expect(covered / told).toBeGreaterThan(0.93);
    expect(covered / told).toBeLessThan(0.97);
  });

  test('covers less where the form of a day lasts into the next, as its description warns', () => {
    const { told, covered } = gainCoverage(1500, { carry: 0.5 }, 2);
    expect(covered / told).toBeLessThan(0.93);
  });
});
