/**
 * The design effect by hand (L. Kish, Survey Sampling, 1965: variance found over variance of independent slots), and its edges.
 * Told from few bars it is more by (t/z)² (Korn and Graubard, Survey Methodology 24, 1998); points of Student's distribution:
 * Abramowitz, Stegun, Handbook of Mathematical Functions, 1964, table 26.10; all from memory.
 */

import { describe, expect, test } from 'vitest';
import {
  CLUSTERING_LEAST,
  designEffectOf,
  designEffectWithin,
} from '../../../src/core/progress/clustering.ts';
import {
  judgeReadiness,
  type TakeEvidence,
  wilsonInterval,
} from '../../../src/core/progress/index.ts';
import { judgeInShort } from '../../../src/core/progress/readiness.ts';
import { between, chanceOf } from './chance.ts';
import { INDEPENDENT, playTake } from './simulated-learners.ts';

const NOW_MS = 86_400_000_000;

/** A take of eighths in 4/4: clean slots of each bar. */
function take(minutesAgo: number, clean: readonly number[], choruses = 1): TakeEvidence {
  const bars = clean.map((count, index) => ({ bar: index + 1, slots: 8, clean: count }));
  return {
    ...{ playedAtMs: NOW_MS - minutesAgo * 60_000, choruses, bars, lateChanges: [] },
    slots: 8 * bars.length,
    clean: clean.reduce((sum, count) => sum + count, 0),
    ...{ changesCounted: 20, changesOnTime: 20, changesUnproven: 0, changesLeftOut: 0 },
  };
}

const of = (bars: number, clean: number): readonly number[] => Array<number>(bars).fill(clean);

describe('the design effect', () => {
  test('is the variance found over that of independent slots', () => {
    // Each bar 8 and 4 of 8: found 2 × 2² = 8; expected 16/15 × 3/4 × 1/4 × (16 − 128/16) = 1.6; t of 24 is 2.064.
    const twice = designEffectOf([take(2, of(24, 8)), take(1, of(24, 4))]);
    expect(twice).toBeCloseTo(5 * (2.064 / 1.96) ** 2, 2);
    // Of 120 bars more than their own the unsureness is small: t is 1.980.
    const often = designEffectOf([take(2, of(120, 8)), take(1, of(120, 4))]);
    expect(often).toBeCloseTo(5 * (1.98 / 1.96) ** 2, 2);
  });

  test('is 1 where the same goes wrong in every take, however unequal the bars', () => {
    const uneven = [...of(12, 8), ...of(12, 2)];
    expect(designEffectOf([take(2, uneven), take(1, uneven)])).toBe(1);
  });

  test('is told from one take as from the choruses of it', () => {
    const chorus = (bar: number, clean: readonly number[]) => ({
      ...{ bar, slots: 8 * clean.length, times: clean.length },
      clean: clean.reduce((sum, count) => sum + count, 0),
      faultySquares: clean.reduce((sum, count) => sum + (8 - count) ** 2, 0),
    });
    const once = Array.from({ length: 24 }, (_, index) => chorus(index + 1, [8, 4]));
    const apart = designEffectOf([take(2, of(24, 8)), take(1, of(24, 4))]);
    expect(designEffectOf([{ bars: once }])).toBeCloseTo(apart, 12);
    const halves = [[8, 4] as const, [4, 8, 8] as const].map((clean) => ({
      bars: Array.from({ length: 12 }, (_, index) => chorus(index + 1, clean)),
    }));
    const singly = [8, 4, 4, 8, 8].map((clean, index) => take(index, of(12, clean)));
    expect(designEffectOf(halves)).toBeCloseTo(designEffectOf(singly), 12);
  });

  test('within blocks is 1 where only the blocks differ, and the same for blocks that are alike', () => {
    const better = [take(4, of(24, 4)), take(3, of(24, 4)), take(2, of(24, 8)), take(1, of(24, 8))];
    expect(designEffectOf(better)).toBeGreaterThan(3);
    expect(designEffectWithin([better.slice(0, 2), better.slice(2)])).toBe(1);
    // Each bar 8 and 4 of 8 in both blocks, as above; told from 48 times less the bars, t is 2.011.
    const block = [take(2, of(24, 8)), take(1, of(24, 4))];
    expect(designEffectWithin([block, block])).toBeCloseTo(5 * (2.011 / 1.96) ** 2, 2);
  });

  test('is 1 of one chorus, of too few bars, and of nothing', () => {
    expect(designEffectOf([take(1, of(40, 4))])).toBe(1);
    const few = (bars: number) => designEffectOf([take(2, of(bars, 8)), take(1, of(bars, 4))]);
    expect(few(CLUSTERING_LEAST - 1)).toBe(1);
    expect(few(CLUSTERING_LEAST)).toBeGreaterThan(5);
    expect(designEffectOf([])).toBe(1);
    expect(designEffectOf([take(2, of(24, 8)), take(1, of(24, 8))])).toBe(1);
  });

  test('of independent slots is about 1, of clustered ones near the variance they were made with', () => {
    const chance = chanceOf(5);
    const many = (hand: typeof INDEPENDENT) =>
      designEffectOf(Array.from({ length: 200 }, () => playTake(chance, 0.9, hand, 1, 0)));
    expect(many(INDEPENDENT)).toBeLessThan(1.1);
    // Eight slots that go as the one before in 0.2: 1 + 2 Σ (1 − k/8) 0.2^k = 1.42.
    expect(many({ ...INDEPENDENT, carry: 0.2 })).toBeGreaterThan(1.3);
    expect(many({ ...INDEPENDENT, carry: 0.2 })).toBeLessThan(1.55);
  });
});

describe('a verdict on clustered takes', () => {
  /** A bar loses three slots at once; in the next take another bar does. Rate 0.953. */
  const stumbling = (minutesAgo: number): TakeEvidence =>
    take(
      minutesAgo,
      of(24, 8).map((clean, bar) => (bar % 8 === minutesAgo % 8 ? clean - 3 : clean)),
    );

  test('counts the slots for fewer, and goes on for as many choruses more', () => {
    const takes = Array.from({ length: 15 }, (_, index) => stumbling(index + 1));
    const { choruses, slots, clean, interval } = judgeReadiness(takes, 60, NOW_MS);
    const blocks = [0, 3, 6, 9, 12].map((from) => takes.slice(from, from + 3));
    const clustering = designEffectWithin(blocks);
    expect(clustering).toBeGreaterThan(2);
    expect(choruses).toBeGreaterThanOrEqual(3 * clustering);
    expect(choruses).toBeLessThan(15);
    expect(interval).toEqual(wilsonInterval(clean / clustering, slots / clustering));
  });

  test('is not told from what went worse before: three clean takes are a raise whatever came before them', () => {
    const sloppy = (minutesAgo: number): TakeEvidence =>
      take(
        minutesAgo,
        of(24, 8).map((clean, bar) => (bar < 6 ? clean - 5 : clean)),
      );
    const clean = [1, 2, 3].map((minutesAgo) => take(minutesAgo, of(24, 8)));
    const takes = [...clean, ...[4, 5, 6].map(sloppy)];
    expect(designEffectOf(takes)).toBeGreaterThan(2);
    expect(judgeReadiness(takes, 60, NOW_MS)).toMatchObject({ verdict: 'raise', choruses: 3 });
  });

  test('nor where what went worse ends within a block: two takes of two choruses are a block, the third is not', () => {
    const twice = (minutesAgo: number, faulty: number): TakeEvidence => ({
      ...take(
        minutesAgo,
        of(24, 8).map((clean, bar) => (bar < 6 ? clean - faulty : clean)),
      ),
      choruses: 2,
    });
    const takes = [0, 0, 0, 5, 5, 5].map((faulty, index) => twice(index + 1, faulty));
    expect(judgeReadiness(takes, 60, NOW_MS)).toMatchObject({ verdict: 'raise', choruses: 4 });
  });

  test('is a raise later than on the same counts spread evenly', () => {
    const even = (minutesAgo: number): TakeEvidence =>
      take(
        minutesAgo,
        of(24, 8).map((clean, bar) => (bar % 8 < 3 ? clean - 1 : clean)),
      );
    expect(judgeReadiness([even(1), even(2)], 60, NOW_MS).verdict).toBe('raise');
    const { verdict, obstacles } = judgeReadiness([stumbling(1), stumbling(2)], 60, NOW_MS);
    expect([verdict, obstacles.map(({ kind }) => kind)]).toEqual(['hold', ['cleanRate']]);
  });

  test('takes three choruses and no more where faults do not cluster', () => {
    const even = [1, 2, 3, 4, 5].map((minutesAgo) => take(minutesAgo, of(24, 7)));
    expect(judgeReadiness(even, 60, NOW_MS)).toMatchObject({ choruses: 3, slots: 576 });
  });
});

test('a verdict in short is that of the whole judgement', () => {
  const chance = chanceOf(9);
  const seen = new Set<string>();
  for (let player = 0; player < 400; player++) {
    const rate = between(chance, 0.6, 1);
    const hand = { ...INDEPENDENT, carry: between(chance, 0, 0.5) };
    const takes = Array.from({ length: 1 + Math.floor(chance() * 5) }, (_, index) =>
      playTake(chance, rate, hand, 1 + Math.floor(chance() * 3), NOW_MS - index * 60_000),
    );
    const { verdict, slots, clean } = judgeReadiness(takes, 60, NOW_MS);
    expect(judgeInShort(takes, NOW_MS)).toEqual({ verdict, slots, clean });
    seen.add(verdict);
  }
  expect(seen.size).toBe(3);
});
