/**
 * The spacing of practice against values in the tests of implementations of the same model (versions not noted). Stability and
 * difficulty after mixed ratings: `fsrs-rs` (Rust), `src/inference.rs`, test of the memory state. Series of intervals with
 * nineteen older weights and the retrievability at the due day: tests of `ts-fsrs`, `long-term_scheduler.test.ts` and
 * `FSRS-6.test.ts`.
 */

import { describe, expect, test } from 'vitest';
import {
  type DayRating,
  memoryOf,
  type RatedDay,
  retrievabilityOn,
  SPACING,
} from '../../src/core/progress/spacing/memory.ts';

const FIRST_DAY = 19_355;

function days(ratings: readonly DayRating[], gaps: readonly number[]): readonly RatedDay[] {
  let day = FIRST_DAY;
  return ratings.map((rating, index) => {
    day += gaps[index] ?? 0;
    return { day, rating };
  });
}

test('mixed ratings at given gaps leave the published memory', () => {
  const memory = memoryOf(
    days(['again', 'good', 'good', 'good', 'good', 'good'], [0, 0, 1, 3, 8, 21]),
  );
  expect(memory?.stabilityDays).toBeCloseTo(53.335106, 4);
  expect(memory?.difficulty).toBeCloseTo(6.3574867, 4);
});

test.each([
  ['again', 0.212, 6.4133],
  ['hard', 1.2931, 5.11217071],
  ['good', 2.3065, 2.11810397],
  ['easy', 8.2956, 1],
] as const)('a first day rated %s', (rating, stabilityDays, difficulty) => {
  const memory = memoryOf([{ day: FIRST_DAY, rating }]);
  expect(memory?.stabilityDays).toBe(stabilityDays);
  expect(memory?.difficulty).toBeCloseTo(difficulty, 8);
});

describe('played on each due day, with the nineteen older weights', () => {
  const OLDER = {
    ...SPACING,
    longestDays: 36_500,
    weights: [
      0.4197, 1.1869, 3.0412, 15.2441, 7.1434, 0.6477, 1.0007, 0.0674, 1.6597, 0.1712, 1.1178,
      2.0225, 0.0904, 0.3025, 2.1214, 0.2498, 2.9466, 0.4891, 0.6468,
    ],
  };
  const good = Array.from({ length: 6 }, () => 'good' as const);

  test.each([
    [
      [...good, 'again', 'again', ...good.slice(1)],
      [3, 13, 48, 155, 445, 1158, 17, 3, 11, 37, 112, 307, 773],
    ],
    [
      ['again', 'hard', 'good', 'easy', 'again', 'hard', 'good', 'easy'],
      [1, 2, 6, 41, 4, 7, 21, 133],
    ],
    [
      ['easy', 'again', 'hard', 'good', 'easy', 'again', 'hard', 'good'],
      [15, 3, 6, 27, 240, 10, 17, 60],
    ],
  ] as const)('%j rests %j days', (ratings, expected) => {
    const played: RatedDay[] = [];
    let day = FIRST_DAY;
    const rests = ratings.map((rating) => {
      played.push({ day, rating });
      const due = memoryOf(played, OLDER)?.dueDay ?? day;
      const rest = due - day;
      day = due;
      return rest;
    });
    expect(rests).toEqual(expected);
  });
});

test('what is left on the due day after a first easy one', () => {
  const memory = memoryOf([{ day: FIRST_DAY, rating: 'easy' }]);
  if (memory === null) throw new Error('a rated day leaves a memory');
  expect(memory.dueDay - FIRST_DAY).toBe(8);
  expect(retrievabilityOn(memory, memory.dueDay)).toBeCloseTo(0.9024733, 7);
});

test('chance and the clock have no part in it', () => {
  const played = days(['good', 'good', 'hard', 'good'], [0, 5, 17, 40]);
  expect(memoryOf(played)).toEqual(memoryOf(structuredClone(played)));
  expect(memoryOf([])).toBeNull();
});
