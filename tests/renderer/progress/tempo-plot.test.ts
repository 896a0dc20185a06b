/** Where takes lie in the plot of a practice. Own rules at the head of its model. */

import { expect, test } from 'vitest';
import { designEffectOf } from '../../../src/core/progress/index.ts';
import { tempoPlot } from '../../../src/renderer/screens/progress/progress-model.ts';
import { chanceOf } from '../../core/progress/chance.ts';
import { INDEPENDENT, playTake } from '../../core/progress/simulated-learners.ts';

const DAY_MS = 86_400_000;
const NOON_MS = Date.UTC(2026, 2, 14, 12);

const take = (daysAgo: number, tempoBpm: number, clean = 100) => ({
  ...{ takeId: `${daysAgo} ${tempoBpm}`, tempoBpm, slots: 100, clean },
  playedAtMs: NOON_MS - daysAgo * DAY_MS,
  day: Math.floor(NOON_MS / DAY_MS) - daysAgo,
});

const laid = (takes: Parameters<typeof tempoPlot>[0]['takes'], goalBpm: number | null) =>
  tempoPlot({ takes, designEffect: 1 }, goalBpm);

test('a few takes lie at their days and tempos, the oldest first', () => {
  const { marks, ...plot } = laid([take(0, 64, 89), take(5, 60, 90), take(10, 56)], 80);
  expect(marks.map(({ takeId, x }) => [takeId, x])).toEqual([
    ['10 56', 0],
    ['5 60', 0.5],
    ['0 64', 1],
  ]);
  // From 4 under the slowest to 4 over the goal: 52 to 84.
  expect(marks.map(({ y }) => y)).toEqual([28 / 32, 24 / 32, 20 / 32]);
  expect(plot).toMatchObject({ lowestBpm: 52, highestBpm: 84, goalY: 4 / 32 });
  expect(marks.map(({ isClean }) => isClean)).toEqual([true, true, false]);
});

test('the clean rate stands within its interval, which 100 slots leave wide', () => {
  // Wilson interval of 90 in 100: 0.8256 to 0.9448, worked out by hand; percents are cut, never rounded up.
  const { marks, lowestRate, cleanY } = laid([take(0, 60, 90)], null);
  const [mark] = marks;
  expect(lowestRate).toBe(0.8);
  expect(mark?.rate.y).toBeCloseTo(0.5, 10);
  expect(cleanY).toBeCloseTo(0.5, 10);
  expect(mark?.rate.upperY).toBeCloseTo((1 - 0.9448) / 0.2, 2);
  expect(mark?.rate.lowerY).toBeCloseTo((1 - 0.8256) / 0.2, 2);
  expect(mark?.words).toMatch(/2026: 90 of 100 clean at 60, surely 82 % to 94 %$/);
  expect(laid([take(0, 60, 30)], null).lowestRate).toBe(0.2);
});

test('one day alone stands in the middle, without a goal and with one date', () => {
  const { marks, goalY, firstDay, lastDay } = laid([take(0, 60)], null);
  expect([marks[0]?.x, goalY, firstDay === lastDay]).toEqual([0.5, null, true]);
});

test('of a long history the takes at one tempo in a stretch of time are one mark, which leads to the newest', () => {
  const days = Array.from({ length: 400 }, (_, daysAgo) => take(daysAgo, 60 + (daysAgo % 2), 95));
  const { marks } = laid(days, null);
  expect(marks).toHaveLength(80);
  const [first, second] = marks;
  expect(first?.x).toBe(second?.x);
  expect(first?.takeId).toMatch(/ 60$/);
  expect(marks.at(-1)?.takeId).toBe('1 61');
  expect(marks.at(-2)?.takeId).toBe('0 60');
  expect(marks.at(-1)?.words).toMatch(/: 475 of 500 clean at 61, surely \d+ % to \d+ %, 5 takes$/);
});

test('slots that go together make the interval wider, as if there were fewer of them', () => {
  // Wilson interval of 22.5 in 25: 0.7251 to 0.9680, worked out by hand.
  const [mark] = tempoPlot({ takes: [take(0, 60, 90)], designEffect: 4 }, null).marks;
  expect(mark?.words).toMatch(/: 90 of 100 clean at 60, surely 72 % to 96 %$/);
});

test('of simulated takes whose slots go as the one before the intervals hold the true rate, as they would not by slots alone', () => {
  const chance = chanceOf(11);
  const RATE = 0.92;
  const held = { bySlots: 0, byEffect: 0, of: 0 };
  for (let practice = 0; practice < 300; practice++) {
    const evidence = Array.from({ length: 20 }, () =>
      playTake(chance, RATE, { ...INDEPENDENT, carry: 0.3 }, 1, 0),
    );
    const takes = evidence.map(({ slots, clean }, daysAgo) => ({
      ...take(daysAgo, 60),
      ...{ slots, clean },
    }));
    const holding = (designEffect: number): number => {
      const { marks, lowestRate } = tempoPlot({ takes, designEffect }, null);
      const trueY = (1 - RATE) / (1 - lowestRate);
      return marks.filter(({ rate }) => rate.upperY <= trueY && trueY <= rate.lowerY).length;
    };
    held.bySlots += holding(1);
    held.byEffect += holding(designEffectOf(evidence));
    held.of += takes.length;
  }
  expect(held.byEffect / held.of).toBeGreaterThan(0.93);
  expect(held.byEffect / held.of).toBeLessThan(0.98);
  expect(held.bySlots / held.of).toBeLessThan(0.9);
});
