/** Practices sorted out of takes; every number of readiness is that of `grading.md`, "Ready for a faster tempo". */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type PlayedTake, practicesOf, temposOf } from '../../../src/core/progress/index.ts';

const DAY_MS = 86_400_000;
const NOW_MS = 1_700_000_000_000;

let count = 0;

function take(part: Partial<PlayedTake>, clean = 64, daysAgo = 0, choruses = 4): PlayedTake {
  count++;
  return {
    takeId: `take ${count}`,
    chartId: 'pier',
    chartTitle: 'Long Pier',
    plan: 'plain',
    key: 'Dm',
    level: 'steps',
    tempoBpm: 66,
    day: Math.floor((NOW_MS - daysAgo * DAY_MS) / DAY_MS),
    evidence: {
      playedAtMs: NOW_MS - daysAgo * DAY_MS,
      choruses,
      slots: 64,
      clean,
      changesCounted: 2,
      changesOnTime: 2,
      changesUnproven: 0,
      changesLeftOut: 0,
      bars: [{ bar: 1, slots: 64, clean }],
      lateChanges: [],
    },
    ...part,
  };
}

describe('practices', () => {
  test('are apart by chart, plan, key and level, the one played last first', () => {
    const practices = practicesOf(
      [
        take({}, 64, 3),
        take({ level: 'thirds' }, 64, 1),
        take({ key: 'Em' }, 64, 2),
        take({ plan: 'side door' }, 64, 4),
        take({ chartId: 'swell', chartTitle: 'Slow Swell' }, 64, 0),
        take({}, 64, 5),
      ],
      NOW_MS,
    );
    expect(
      practices.map(({ chartTitle, level, key, plan, takeCount }) => [
        chartTitle,
        level,
        key,
        plan,
        takeCount,
      ]),
    ).toEqual([
      ['Slow Swell', 'steps', 'Dm', 'plain', 1],
      ['Long Pier', 'thirds', 'Dm', 'plain', 1],
      ['Long Pier', 'steps', 'Em', 'plain', 1],
      ['Long Pier', 'steps', 'Dm', 'plain', 2],
      ['Long Pier', 'steps', 'Dm', 'side door', 1],
    ]);
  });

  test('hold at the fastest tempo that meets every condition of a raise, whatever was played after it', () => {
    const [practice] = practicesOf(
      [
        take({ tempoBpm: 60 }, 64, 4),
        take({ tempoBpm: 66 }, 64, 3),
        take({ tempoBpm: 72 }, 40, 2),
        take({ tempoBpm: 69 }, 50, 1),
      ],
      NOW_MS,
    );
    expect(practice?.holdsBpm).toBe(66);
    expect(practice?.present.tempoBpm).toBe(69);
    const tempos = temposOf(practice?.recent ?? [], NOW_MS);
    expect(tempos.map(({ tempoBpm }) => tempoBpm)).toEqual([72, 69, 66, 60]);
  });

  test('hold at nothing after thirty days, and with one chorus', () => {
    expect(practicesOf([take({}, 64, 31)], NOW_MS)[0]?.holdsBpm).toBeNull();
    expect(practicesOf([take({}, 64, 0, 1)], NOW_MS)[0]?.holdsBpm).toBeNull();
  });

  test('are the same whatever the order of the takes, and count each take once', () => {
    const takes = fc.array(
      fc.record({
        tempoBpm: fc.constantFrom(60, 66, 72),
        level: fc.constantFrom('steps' as const, 'thirds' as const),
        clean: fc.integer({ min: 0, max: 64 }),
        daysAgo: fc.integer({ min: 0, max: 60 }),
      }),
      { maxLength: 12 },
    );
    fc.assert(
      fc.property(takes, fc.integer(), (wished, seed) => {
        const played = wished.map(({ tempoBpm, level, clean, daysAgo }, index) =>
          // No two at one moment: their order would be open.
          take({ tempoBpm, level, takeId: String(index) }, clean, daysAgo + index / 1000),
        );
        const shuffled = played.toSorted(
          (one, other) =>
            ((Number(one.takeId) * 7 + seed) % 13) - ((Number(other.takeId) * 7 + seed) % 13),
        );
        expect(practicesOf(shuffled, NOW_MS)).toEqual(practicesOf(played, NOW_MS));
        const counts = practicesOf(played, NOW_MS).map(({ takeCount }) => takeCount);
        expect(counts.reduce((sum, count) => sum + count, 0)).toBe(played.length);
      }),
    );
  });
});
