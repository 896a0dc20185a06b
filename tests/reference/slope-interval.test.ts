/** Student's interval of a slope against certified values. */

import { describe, expect, test } from 'vitest';
import { type Point, slopeInterval } from '../../src/core/progress/gain/slope-interval.ts';

// NIST Statistical Reference Datasets, linear regression, "Norris"; y before x, as published.
const NORRIS = `0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3 998.5 996.3
449.1 448.6 778.9 777.0 559.2 558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9 339.3 338.0 448.9 447.5 10.8 11.6
557.7 556.0 228.3 228.1 998.0 995.8 888.8 887.6 119.6 120.2 0.3 0.3 0.6 0.3 557.6 556.8 339.3 339.1
888.0 887.2 998.5 999.0 778.9 779.0 10.2 11.1 117.6 118.3 228.9 229.2 668.4 669.1 449.2 448.9 0.2 0.5`;
const SLOPE = 1.00211681802045;
const ERROR = 0.429796848199937e-3;
/** 97.5 % point for 34 degrees of freedom. Source: NIST/SEMATECH e-Handbook, table 1.3.6.7.2. */
const T_34 = 2.032;

test('the slope and its error are the certified ones', () => {
  const figures = NORRIS.split(/\s+/).map(Number);
  const points = Array.from(
    { length: figures.length / 2 },
    (_, row): Point => [figures[2 * row + 1] ?? Number.NaN, figures[2 * row] ?? Number.NaN],
  );
  expect(points).toHaveLength(36);
  const line = slopeInterval(points);
  expect(line?.slope).toBeCloseTo(SLOPE, 12);
  expect(((line?.upper ?? 0) - SLOPE) / ERROR).toBeCloseTo(T_34, 3);
  expect((SLOPE - (line?.lower ?? 0)) / ERROR).toBeCloseTo(T_34, 3);
});

describe('no slope is told', () => {
  test('from two points, or where x stands still', () => {
    expect(
      slopeInterval([
        [1, 2],
        [3, 5],
      ]),
    ).toBeNull();
    expect(
      slopeInterval([
        [1, 2],
        [1, 5],
        [1, 6],
      ]),
    ).toBeNull();
  });
});

test('points on a line claim no more than their least variance', () => {
  const points: readonly Point[] = [
    [0, 0],
    [1, 2],
    [2, 4],
  ];
  expect(slopeInterval(points)).toEqual({ slope: 2, lower: 2, upper: 2 });
  // t(0.975, 1) · √(0.5 / 2)
  expect(slopeInterval(points, 0.5)?.upper).toBeCloseTo(2 + 12.706 / 2, 3);
});
