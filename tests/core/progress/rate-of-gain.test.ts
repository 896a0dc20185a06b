/** The rate of gain: own rules at the head of `rate-of-gain.ts`; its interval proves itself on players whose rate is known. */

import { describe, expect, test } from 'vitest';
import { describeGain, rateOfGain } from '../../../src/core/progress/index.ts';
import { gainCoverage, type Player } from './simulated-gain.ts';
import { INDEPENDENT } from './simulated-learners.ts';
import { dayTempos, type TakeWish, TODAY, take } from './takes.ts';

const gainOf = (...wishes: readonly TakeWish[]) => rateOfGain(dayTempos(wishes.map(take)), TODAY);

/** Two takes a day, of 800 slots each: at a tempo with 10 % of faults or so, and five beats faster with more. */
const days = (...played: readonly (readonly [daysAgo: number, tempoBpm: number])[]) =>
  gainOf(
    ...played.flatMap(([daysAgo, tempoBpm]) => [
      { daysAgo, tempoBpm, slots: 800, clean: 720 },
      { daysAgo, tempoBpm: tempoBpm + 5, slots: 800, clean: 660 },
    ]),
  );

describe('nothing is told', () => {
  test('under five days', () => {
    expect(days([20, 60], [14, 62], [7, 64], [0, 66])).toEqual({
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
    expect(days([55, 50], [14, 62], [7, 64], [3, 65], [0, 66]).kind).toBe('gain');
    expect(gainOf()).toMatchObject({ kind: 'tooThin', missingDays: 5, missingSpanDays: 7 });
    expect(describeGain(gainOf())).toBe(
      'Too little to tell a rate of gain: 5 more days of practice needed.',
    );
  });

  test('from days with fewer slots at a tempo than an ease is judged on', () => {
    const thin = { slots: 31, clean: 25, tempoBpm: 60 };
    expect(gainOf(...[28, 21, 14, 7, 0].map((daysAgo) => ({ ...thin, daysAgo })))).toMatchObject({
      missingDays: 5,
    });
    // Two takes of a day at one tempo are summed.
    const twice = [28, 21, 14, 7, 0].flatMap((daysAgo) => [
      { ...thin, daysAgo },
      { ...thin, daysAgo },
    ]);
    expect(gainOf(...twice).kind).toBe('oneTempo');
  });

  test.each([
    ['one tempo alone', [60, 60, 60, 60, 60], [720, 725, 730, 735, 740]],
    ['every slot clean', [60, 64, 62, 66, 64], [800, 800, 800, 800, 800]],
    ['a faster tempo that costs nothing', [60, 70, 61, 71, 62], [700, 760, 705, 765, 702]],
  ])('from %s: what to play is said', (_, tempos, cleans) => {
    const gain = gainOf(
      ...tempos.map((tempoBpm, index) => ({
        ...{ daysAgo: 28 - 7 * index, tempoBpm, slots: 800, clean: cleans[index] ?? 0 },
      })),
    );
    expect(gain).toEqual({ kind: 'oneTempo' });
    expect(describeGain(gain)).toContain('a little slower and a little faster than now');
  });
});

describe('a steady gain', () => {
  test('is told per week, from the tempo that is equally clean', () => {
    const steady = days([28, 60], [21, 62], [14, 64], [7, 66], [0, 68]);
    if (steady.kind !== 'gain') throw new Error('five days over four weeks are enough');
    expect(steady.bpmPerWeek).toBeCloseTo(2, 6);
    expect(steady.lower).toBeLessThan(2);
    expect(steady.upper).toBeGreaterThan(2);
    expect(steady.days).toBe(5);
  });

  test('is the same when other tempos were chosen, each as clean as that tempo is', () => {
    // Clean slots of 100,000 by a rate that falls with the tempo and rises by 2 beats per minute a week.
    const at = (daysAgo: number, tempoBpm: number): TakeWish => {
      const logOdds = 2 - (tempoBpm - 60 - 2 * ((28 - daysAgo) / 7)) / 8;
      const clean = Math.round(100_000 / (1 + Math.exp(-logOdds)));
      return { daysAgo, tempoBpm, slots: 100_000, clean };
    };
    const rising = gainOf(at(28, 40), at(21, 50), at(14, 60), at(7, 66), at(0, 72), at(0, 66));
    const steady = gainOf(at(28, 64), at(21, 60), at(14, 64), at(7, 61), at(0, 64), at(0, 60));
    for (const gain of [rising, steady]) {
      if (gain.kind !== 'gain') throw new Error('what a tempo costs shows');
      expect(gain.bpmPerWeek).toBeCloseTo(2, 1);
    }
  });

  test('says a direction only when the interval has one', () => {
    const rising = describeGain(days([28, 60], [21, 62], [14, 64], [7, 66], [0, 68]));
    expect(rising).toMatch(
      /^At an equal clean rate the tempo rises by 2\.0 a week, likely between /,
    );
    expect(rising).toMatch(/told from 5 days of the last 8 weeks\.$/);
    const falling = describeGain(days([28, 68], [21, 66], [14, 64], [7, 62], [0, 60]));
    expect(falling).toMatch(/the tempo falls by 2\.0 a week, likely between −\d/);
    const open = describeGain(days([28, 60], [21, 62], [14, 60], [7, 61], [0, 61]));
    expect(open).toMatch(/cannot be told yet: between −\d/);
  });
});

describe('the interval stated as 95 %, of players who choose their tempos by the verdicts', () => {
  const PLAYER: Player = { carry: 0, formBpm: 2, start: [0.85, 1.05], hand: INDEPENDENT };

  test.each([
    ['near what they can', PLAYER, 1],
    ['far below it', { ...PLAYER, start: [0.6, 0.8] }, 2],
    ['with days of strong form', { ...PLAYER, formBpm: 4 }, 3],
  ] as const)('covers the true rate of 92 to 98 in a hundred who begin %s', (_, player, seed) => {
    const { told, covered, biasBpm } = gainCoverage(900, player, seed);
    expect(told).toBeGreaterThan(450);
    expect(covered / told).toBeGreaterThan(0.92);
    expect(covered / told).toBeLessThan(0.98);
    expect(Math.abs(biasBpm)).toBeLessThan(0.15);
  });

  test('covers less where the form of a day lasts into the next, as its description warns', () => {
    const { told, covered } = gainCoverage(300, { ...PLAYER, carry: 0.5 }, 4);
    expect(covered / told).toBeLessThan(0.92);
  });
});
