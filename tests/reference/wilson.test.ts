/**
 * Wilson score intervals against a published table and against the formula with the quantile of @stdlib/stats-base-dists-normal-quantile
 * 0.3.1. The table was not seen itself, only as a package for R quotes it in its help; its rows were worked out again apart.
 */

import quantile from '@stdlib/stats-base-dists-normal-quantile';
import { describe, expect, test } from 'vitest';
import { wilsonInterval } from '../../src/core/progress/index.ts';
import { Z_95 } from '../../src/core/progress/wilson.ts';

describe('R. G. Newcombe, Statistics in Medicine 17 (1998), Table I, method 3, second-hand', () => {
  test.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])('%i of %i', (successes, trials, lower, upper) => {
    const interval = wilsonInterval(successes, trials);
    expect(interval.lower).toBeCloseTo(lower, 4);
    expect(interval.upper).toBeCloseTo(upper, 4);
  });
});

describe('edges, worked out with the closed formula', () => {
  test.each([
    [0, 10, 0, 0.2775],
    [10, 10, 0.7225, 1],
    [5, 10, 0.2366, 0.7634],
    [0, 1, 0, 0.7935],
    [1, 1, 0.2065, 1],
    [29, 29, 0.883, 1],
  ])('%i of %i', (successes, trials, lower, upper) => {
    const interval = wilsonInterval(successes, trials);
    expect(interval.lower).toBeCloseTo(lower, 4);
    expect(interval.upper).toBeCloseTo(upper, 4);
  });

  test('the interval of the failures mirrors that of the successes', () => {
    for (const [successes, trials] of [
      [3, 17],
      [64, 65],
      [0, 9],
    ] as const) {
      const { lower, upper } = wilsonInterval(successes, trials);
      const mirrored = wilsonInterval(trials - successes, trials);
      expect(mirrored.lower).toBeCloseTo(1 - upper, 12);
      expect(mirrored.upper).toBeCloseTo(1 - lower, 12);
    }
  });

  test('nothing tried tells nothing', () => {
    expect(wilsonInterval(0, 0)).toEqual({ lower: 0, upper: 1 });
  });
});

test('the constant is the 97.5 % point of the normal distribution (stdlib)', () => {
  expect(Z_95).toBeCloseTo(quantile(0.975, 0, 1), 12);
});
