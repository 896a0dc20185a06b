/** The place that broke most: two neighbours, by their clean rate together. Own rule. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drillTempoBpm, weakestPlace } from '../../../src/core/progress/index.ts';

const bars = (...clean: readonly number[]) =>
  clean.map((own, index) => ({ bar: index + 1, slots: 8, clean: own }));

describe('the weakest place', () => {
  test.each([
    ['two bad bars side by side', bars(8, 6, 5, 8), { from: 2, to: 3, slots: 16, clean: 11 }],
    [
      'one bad bar takes a neighbour along, the earlier one',
      bars(8, 8, 4, 8),
      { from: 2, to: 3, slots: 16, clean: 12 },
    ],
    ['the last bar alone', bars(8, 8, 8, 1).slice(3), { from: 4, to: 4, slots: 8, clean: 1 }],
  ])('%s', (_, played, expected) => {
    expect(weakestPlace(played)).toEqual(expected);
  });

  test('adds up choruses, and is none where everything was clean or nothing was played', () => {
    expect(weakestPlace([...bars(8, 7), ...bars(8, 7)])).toEqual({
      from: 1,
      to: 2,
      slots: 32,
      clean: 30,
    });
    expect(weakestPlace(bars(8, 8, 8))).toBeNull();
    expect(weakestPlace([])).toBeNull();
    expect(weakestPlace([{ bar: 1, slots: 4, clean: 0 }])).toBeNull();
  });

  test('is the least clean of all neighbours, tried one by one', () => {
    const cleanOfBars = fc.array(fc.integer({ min: 0, max: 8 }), { minLength: 2, maxLength: 16 });
    fc.assert(
      fc.property(cleanOfBars, (clean) => {
        const pairs = clean.slice(1).map((own, index) => own + (clean[index] ?? 0));
        const least = Math.min(...pairs);
        expect(weakestPlace(bars(...clean))?.clean ?? 16).toBe(least);
      }),
    );
  });

  test('is drilled one step of ease slower', () => {
    expect(drillTempoBpm(100)).toBe(92);
  });
});
