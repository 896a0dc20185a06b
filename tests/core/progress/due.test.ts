/** Days rated from takes, and when a practice is due. The mapping is an own rule, at the head of `rate-days.ts`. */

import { describe, expect, test } from 'vitest';
import { dueOf, type PlayedTake, rateDays, rateTempos } from '../../../src/core/progress/index.ts';
import { resting, TODAY, take } from './takes.ts';

/** Takes of each day, the earliest day first. */
const rated = (...takes: readonly PlayedTake[]) =>
  rateDays(
    [...Map.groupBy(takes, ({ day }) => day)].flatMap(([day, own]) =>
      rateTempos(own).map((tempo) => ({ day, ...tempo })),
    ),
  );
const ratings = (...takes: readonly PlayedTake[]) => rated(...takes).map(({ rating }) => rating);

describe('a day is', () => {
  test.each([
    ['easy', 63],
    ['good', 62],
    ['good', 58],
    ['hard', 57],
    ['hard', 42],
    ['again', 41],
  ] as const)('%s with %i of 64 slots clean', (rating, clean) => {
    expect(ratings(take({ clean }))).toEqual([rating]);
  });

  test('left out under 32 slots at every tempo', () => {
    expect(ratings(take({ slots: 32, clean: 30 }))).toEqual(['good']);
    expect(ratings(take({ slots: 31 }))).toEqual([]);
    expect(ratings(take({ slots: 31 }), take({ slots: 31, tempoBpm: 60 }))).toEqual([]);
  });

  test('good, not easy, with one chorus or late changes', () => {
    expect(ratings(take({ evidence: { choruses: 1 } }))).toEqual(['good']);
    expect(ratings(take({ evidence: { changesOnTime: 1 } }))).toEqual(['good']);
  });

  test('the best of its tempos', () => {
    expect(ratings(take({ clean: 40 }), take({ tempoBpm: 62, clean: 60 }))).toEqual(['good']);
  });

  test('hard at best when all was slower than a step of ease below what came out well', () => {
    const held = take({ daysAgo: 3, tempoBpm: 100 });
    expect(ratings(held, take({ tempoBpm: 92 }))).toEqual(['easy', 'easy']);
    expect(ratings(held, take({ tempoBpm: 91 }))).toEqual(['easy', 'hard']);
    expect(ratings(held, take({ tempoBpm: 91, clean: 20 }))).toEqual(['easy', 'again']);
    expect(ratings(held, take({ tempoBpm: 91 }), take({ tempoBpm: 96, clean: 50 }))).toEqual([
      'easy',
      'hard',
    ]);
    const never = take({ daysAgo: 3, tempoBpm: 100, clean: 50 });
    expect(ratings(never, take({ tempoBpm: 60 }))).toEqual(['hard', 'easy']);
  });
});

test('days are those of the place each take was played in, whatever the moment', () => {
  const evening = take({ day: 20_000 });
  expect(rated(evening, take({ day: 20_001 })).map(({ day }) => day)).toEqual([20_000, 20_001]);
  expect(rated(evening, take({ day: 20_000, daysAgo: -1 })).map(({ day }) => day)).toEqual([
    20_000,
  ]);
});

describe('due', () => {
  test('eight days after a first easy one', () => {
    // 8.2956 days, rounded.
    expect(dueOf(resting([take({ daysAgo: 3 })]), TODAY).inDays).toBe(5);
  });

  test('sooner the worse it went, and less is left the longer it rests', () => {
    const inDays = [64, 60, 50, 20].map((clean) => dueOf(resting([take({ clean })]), TODAY).inDays);
    // 8.2956, 2.3065, 1.2931 and 0.212 days rounded, and each rating at least a day after the one below it.
    expect(inDays).toEqual([8, 3, 2, 1]);
    const left = [0, 4, 20].map(
      (daysAgo) => dueOf(resting([take({ daysAgo, clean: 60 })]), TODAY).retrievability ?? 0,
    );
    expect(left[0]).toBe(1);
    expect(left[1]).toBeLessThan(0.9);
    expect(left[2]).toBeLessThan(left[1] ?? 0);
  });

  test('later each time it held, half a year at most', () => {
    const takes = [0, 8, 40, 150, 330].map((day) => take({ daysAgo: 330 - day }));
    expect(dueOf(resting(takes), TODAY).inDays).toBe(180);
  });

  test('two weeks after its last day at the latest, until its goal has held', () => {
    // Half a year at most, three days of it gone.
    const takes = [0, 8, 40].map((day) => take({ daysAgo: 43 - day }));
    expect(dueOf(resting(takes), TODAY)).toMatchObject({ inDays: 177, reason: 'fading' });
    const ahead = dueOf(resting(takes, false), TODAY);
    expect(ahead).toMatchObject({ inDays: 11, reason: 'goalAhead' });
    // Spacing asks for less than that: it decides.
    const first = dueOf(resting([take()], false), TODAY);
    expect(first).toMatchObject({ inDays: 8, reason: 'fading' });
  });

  test('the day after, while no day says enough', () => {
    for (const [daysAgo, inDays] of [
      [0, 1],
      [1, 0],
      [5, -4],
    ] as const) {
      const due = dueOf(resting([take({ slots: 8, daysAgo })]), TODAY);
      expect(due).toEqual({ inDays, reason: 'untold', retrievability: null });
    }
  });
});
