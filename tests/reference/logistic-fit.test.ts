/**
 * Logistic regression and a ratio's interval against published figures.
 * Beetles killed by carbon disulphide: C. I. Bliss, Annals of Applied Biology 22 (1935); estimates with standard errors and
 * Pearson's statistic as A. J. Dobson prints them, An Introduction to Generalized Linear Models, 2nd ed., 2002, section 7.3;
 * both from memory.
 */

import { expect, test } from 'vitest';
import { type Counts, fitLogistic } from '../../src/core/progress/gain/logistic-fit.ts';
import { ratioInterval } from '../../src/core/progress/gain/ratio-interval.ts';

/** Dose as the decimal logarithm of mg per litre, beetles, killed. */
const BEETLES = [
  [1.6907, 59, 6],
  [1.7242, 60, 13],
  [1.7552, 62, 18],
  [1.7842, 56, 28],
  [1.8113, 63, 52],
  [1.8369, 59, 53],
  [1.861, 62, 61],
  [1.8839, 60, 60],
] as const;

const counts = (group: (index: number) => number): readonly Counts[] =>
  BEETLES.map(([dose, slots, clean], index) => ({
    ...{ at: [dose], slots, clean, group: group(index) },
  }));

test('the estimates are those printed, their errors too once the dispersion is taken out', () => {
  const fit = fitLogistic(counts((index) => index));
  expect(fit?.coefficients[0]).toBeCloseTo(-60.72, 1);
  expect(fit?.coefficients[1]).toBeCloseTo(34.27, 2);
  expect(fit?.freedom).toBe(6);
  const dispersion = 10.03 / 6;
  const error = (index: number) => Math.sqrt((fit?.covariances[index]?.[index] ?? 0) / dispersion);
  expect(error(0)).toBeCloseTo(5.18, 1);
  expect(error(1)).toBeCloseTo(2.91, 2);
});

test('counts of one group go together: the same counts, cut in two, tell no more', () => {
  const whole = fitLogistic(counts((index) => index));
  const halves = BEETLES.flatMap(([dose, slots, clean], group) => {
    const part = Math.floor(clean / 2);
    return [
      { at: [dose], slots: slots / 2, clean: part, group },
      { at: [dose], slots: slots / 2, clean: clean - part, group },
    ];
  });
  const cut = fitLogistic(halves);
  expect(cut?.freedom).toBe(6);
  expect(cut?.coefficients[1]).toBeCloseTo(whole?.coefficients[1] ?? 0, 6);
  expect(cut?.covariances[1]?.[1]).toBeCloseTo(whole?.covariances[1]?.[1] ?? 0, 6);
});

test('counts that scatter less than chance are no surer than chance allows', () => {
  const even = [0, 1, 2, 3].map((group) => ({ at: [group % 2], slots: 100, clean: 80, group }));
  // Two groups of 200 with a variance of 0.16 a slot: 1 / 32 each, and the difference has both.
  expect(fitLogistic(even)?.covariances[1]?.[1]).toBeCloseTo(2 / 32, 10);
});

test.each([
  ['nothing was counted', []],
  [
    'a quantity never changes',
    [0, 1, 2, 3].map((group) => ({ at: [1], slots: 9, clean: 5, group })),
  ],
  [
    'all is clean beyond a border',
    [0, 1, 2, 3].map((group) => ({ at: [group], slots: 9, clean: group < 2 ? 0 : 9, group })),
  ],
  [
    'there are as many coefficients as groups',
    [0, 1].map((group) => ({ at: [group], slots: 9, clean: 5 + group, group })),
  ],
])('nothing is fitted where %s', (_, counted) => {
  expect(fitLogistic(counted)).toBeNull();
});

test('the bounds of a ratio are where above less ratio times below is just within reach of zero', () => {
  const [above, below] = [
    { value: 3, variance: 0.25 },
    { value: 2, variance: 0.04 },
  ];
  const covariance = 0.02;
  const interval = ratioInterval(above, below, covariance, 2);
  if (interval === null) throw new Error('2 is told from 0 by 0.2');
  expect(interval.ratio).toBe(1.5);
  for (const bound of [interval.lower, interval.upper]) {
    const error = Math.sqrt(above.variance - 2 * bound * covariance + bound ** 2 * below.variance);
    expect(Math.abs(above.value - bound * below.value) / error).toBeCloseTo(2, 10);
  }
  expect(interval.lower).toBeLessThan(1.5);
  expect(interval.upper).toBeGreaterThan(1.5);
  // Of a sure divisor: (3 ± 2 × 0.5) / 2.
  expect(ratioInterval(above, { value: 2, variance: 0 }, 0, 2)).toEqual({
    ...{ ratio: 1.5, lower: 1, upper: 2 },
  });
});

test('a ratio to what may be nothing has no bounds', () => {
  const above = { value: 3, variance: 0.25 };
  expect(ratioInterval(above, { value: 0.39, variance: 0.04 }, 0, 2)).toBeNull();
  expect(ratioInterval(above, { value: 0.41, variance: 0.04 }, 0, 2)).not.toBeNull();
});
