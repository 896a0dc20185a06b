/**
 * How often the verdict is right about learners whose true rate is known; they are described in `simulated-learners.ts`. The
 * verdict allows for clusters of faults; the Wilson interval alone does not, and by how much it then errs is stated here too.
 */

import { describe, expect, test } from 'vitest';
import { runs } from '../../helpers/runs.ts';
import {
  falseWeakPlaces,
  followVerdicts,
  type Hand,
  INDEPENDENT,
  raisedWithin,
  wilsonCoverage,
} from './simulated-learners.ts';

const CARRYING: Hand = { ...INDEPENDENT, carry: 0.2 };
/** The variance of a long count is 1.86-fold. */
const STRONGLY: Hand = { ...INDEPENDENT, carry: 0.3 };
const STUMBLING: Hand = { ...INDEPENDENT, stumbles: 0.5 };
const UNEVEN: Hand = { ...INDEPENDENT, unevenness: 1 };

describe('raises that came too early', () => {
  test.each([
    ['independent slots', INDEPENDENT],
    ['slots that go as the one before', CARRYING],
    ['stumbles of three slots', STUMBLING],
    ['bars that are always harder', UNEVEN],
  ])('are under 5 in 100 for learners who follow every verdict for two months, %s', (_, hand) => {
    const learners = runs(200, 60);
    const { raises, wrong, farWrong } = followVerdicts(learners, hand, 1, 11);
    expect(raises).toBeGreaterThan(5 * learners);
    expect(wrong / raises).toBeLessThan(0.05);
    expect(farWrong / raises).toBeLessThan(0.005);
  });

  test.each([
    ['go as the one before', CARRYING],
    ['often go as the one before', STRONGLY],
    ['come in stumbles', STUMBLING],
  ])('are so also with long takes of slots that %s: each is another try', (_, hand) => {
    const { raises, wrong } = followVerdicts(runs(300, 200), hand, 4, 15);
    expect(wrong / raises).toBeLessThan(0.05);
  });

  test.each([
    ['independent', INDEPENDENT],
    ['that go as the one before', CARRYING],
    ['with stumbles', STUMBLING],
  ])(
    'come to fewer than 2 in 100 players of a true rate of 0.85 in 15 takes of two choruses, slots %s',
    (_, hand) => {
      expect(
        raisedWithin({ takes: 15, choruses: 2 }, 0.85, hand, runs(2000, 200), 12),
      ).toBeLessThan(0.02);
    },
  );
});

describe('raises that did not come', () => {
  test.each([
    ['independent', INDEPENDENT],
    ['clustered', CARRYING],
  ])(
    'are under 10 in 100 after five choruses at a true rate of 0.95 or more, slots %s',
    (_, hand) => {
      for (const rate of [0.95, 0.97]) {
        expect(
          1 - raisedWithin({ takes: 5, choruses: 1 }, rate, hand, runs(600, 400), 13),
        ).toBeLessThan(0.1);
      }
    },
  );

  test('are so after seven where half the faults are stumbles', () => {
    expect(
      1 - raisedWithin({ takes: 7, choruses: 1 }, 0.95, STUMBLING, runs(600, 400), 13),
    ).toBeLessThan(0.1);
  });

  test('are more after the first three choruses alone, at a rate of just 0.95', () => {
    expect(
      1 - raisedWithin({ takes: 3, choruses: 1 }, 0.95, INDEPENDENT, runs(600, 400), 14),
    ).toBeGreaterThan(0.1);
    expect(
      1 - raisedWithin({ takes: 3, choruses: 1 }, 0.97, INDEPENDENT, runs(600, 400), 14),
    ).toBeLessThan(0.1);
  });
});

describe('the Wilson interval stated as 95 %', () => {
  test('covers the true rate 94 to 96 times in 100 where slots are independent', () => {
    const coverage = wilsonCoverage(INDEPENDENT.carry, runs(10_000, 5_000), 15);
    expect(coverage).toBeGreaterThan(0.94);
    expect(coverage).toBeLessThan(0.96);
  });

  test('covers about 90 times in 100 where they cluster mildly', () => {
    const coverage = wilsonCoverage(CARRYING.carry, runs(10_000, 5_000), 16);
    expect(coverage).toBeGreaterThan(0.88);
    expect(coverage).toBeLessThan(0.92);
  });
});

test('a surely weak place is a false alarm less than 5 times in 100 at a rate of 0.92, where slots cluster at 0.95', () => {
  expect(falseWeakPlaces(0.92, INDEPENDENT, runs(1500, 500), 17)).toBeLessThan(0.05);
  expect(falseWeakPlaces(0.95, CARRYING, runs(1500, 500), 18)).toBeLessThan(0.05);
});
