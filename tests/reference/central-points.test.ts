/** Factors of intervals against a printed table, a closed form and @stdlib/stats-base-dists-normal-quantile 0.3.1. */

import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import { describe, expect, test } from 'vitest';
import { normalPoint, studentPoint } from '../../src/core/progress/central-points.ts';
import { Z_95 } from '../../src/core/progress/wilson.ts';

// NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.2, columns 0.95, 0.975 and 0.999.
test.each([
  [1, 6.314, 12.706, 318.313],
  [2, 2.92, 4.303, 22.327],
  [3, 2.353, 3.182, 10.215],
  [4, 2.132, 2.776, 7.173],
  [8, 1.86, 2.306, 4.501],
  [9, 1.833, 2.262, 4.297],
  [30, 1.697, 2.042, 3.385],
  [100, 1.66, 1.984, 3.174],
])('Student with %i degrees of freedom: %f, %f, %f', (freedom, ninety, ninetyFive, most) => {
  expect(Math.abs(studentPoint(0.9, freedom) - ninety)).toBeLessThan(0.00051);
  expect(Math.abs(studentPoint(0.95, freedom) - ninetyFive)).toBeLessThan(0.00051);
  // The printed table is off by a few thousandths here.
  expect(Math.abs(studentPoint(0.998, freedom) - most)).toBeLessThan(0.006);
});

describe('Student in closed form', () => {
  test.each([0.1, 0.5, 0.95, 0.9999])('share %f', (share) => {
    expect(studentPoint(share, 1)).toBeCloseTo(Math.tan((share * Math.PI) / 2), 6);
    expect(studentPoint(share, 2)).toBeCloseTo(share * Math.sqrt(2 / (1 - share ** 2)), 8);
  });
});

test.each([0.05, 0.5, 0.9, 0.95, 0.99, 1 - 0.05 / 64, 1 - 1e-8])(
  'normal, share %f: as the library has it',
  (share) => {
    expect(normalPoint(share)).toBeCloseTo(normalQuantile((1 + share) / 2, 0, 1), 7);
  },
);

test('both meet at 95 %', () => {
  expect(normalPoint(0.95)).toBeCloseTo(Z_95, 12);
  expect(studentPoint(0.95, 100_001)).toBeCloseTo(Z_95, 4);
});
