/** Weak places ranked and what speaks for them: own rules; intervals from the closed Wilson formula. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { describePlace, weakPlaces } from '../../../src/core/progress/index.ts';
import { take } from './takes.ts';

/** A take of eight slots a bar, with that many clean. */
const played = (...clean: readonly number[]) =>
  take({
    evidence: { bars: clean.map((own, index) => ({ bar: index + 1, slots: 8, clean: own })) },
  });

describe('weak places', () => {
  test('come the weakest first, no bar in two of them', () => {
    const places = weakPlaces([played(8, 6, 3, 8, 8, 7, 8, 5)]);
    expect(places.map(({ from, to, clean }) => [from, to, clean])).toEqual([
      [2, 3, 9],
      [7, 8, 13],
      [5, 6, 15],
    ]);
  });

  test('are surer with more behind them: 55 clean of 80 comes before 5 of 8', () => {
    const once = { bar: 1, slots: 8, clean: 5 };
    const often = { bar: 5, slots: 80, clean: 55 };
    const places = weakPlaces([take({ evidence: { bars: [once, often] } })]);
    expect(places.map(({ from }) => from)).toEqual([5, 1]);
  });

  test('stand as sure from the slot on where the whole interval is under nine in ten', () => {
    // Wilson upper bounds: 12 of 16 0.898, 13 of 16 0.934.
    const standing = (clean: number) => weakPlaces([played(clean - 6, 6)])[0]?.standing;
    expect([12, 13].map(standing)).toEqual(['surely', 'perhaps']);
  });

  test('bring the takes that played there, the rate there and elsewhere', () => {
    const first = played(8, 8, 4, 6);
    const second = played(8, 8);
    const [place] = weakPlaces([first, second]);
    expect(place).toMatchObject({ from: 3, to: 4, slots: 16, clean: 10, elsewhereRate: 1 });
    expect(place?.takes).toBe(1);
    expect(weakPlaces([played(4, 6)])[0]?.elsewhereRate).toBeNull();
  });

  test('are less sure the more of them were looked at', () => {
    const upper = (bars: number) =>
      weakPlaces([played(5, 5, ...Array.from({ length: bars - 2 }, () => 8))])[0]?.interval.upper;
    // Closed Wilson formula, 10 of 16, with z = 1.95996 for one pair and 2.39398 for three (1 − 0.025 / 3).
    expect(upper(2)).toBeCloseTo(0.8152, 4);
    expect(upper(4)).toBeCloseTo(0.8428, 4);
  });

  test('tell what went wrong there, most frequent first, and nothing of other bars', () => {
    const chord = { beat: 1, chord: 'G7', slots: 8, clean: 4, arrivals: null };
    const seen = take({
      evidence: {
        bars: [
          { bar: 1, slots: 8, clean: 8 },
          { bar: 2, slots: 8, clean: 8 },
          { bar: 3, slots: 8, clean: 2 },
        ],
        chords: [
          { ...chord, bar: 3, faults: { outside: 3, gap: 1 } },
          { ...chord, bar: 1, faults: { late: 9 } },
        ],
        lateChanges: [
          { bar: 3, beat: 1, toChord: 'G7' },
          { bar: 3, beat: 1, toChord: 'G7' },
          { bar: 1, beat: 1, toChord: 'C' },
        ],
      },
    });
    const [place] = weakPlaces([seen]);
    expect(place?.causes.map(({ kind, count }) => [kind, count])).toEqual([
      ['fault', 3],
      ['change', 2],
      ['fault', 1],
    ]);
    expect(place && describePlace(place)).toBe(
      'Bars 2 and 3: 10 of 16 slots clean in 1 take, surely 84 % or less; 100 % elsewhere. Most often: outside, 3 times; G7 in bar 3 not on time, 2 times; gap, 1 time.',
    );
  });

  test('never share a bar, and only get surer of their strength', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 8 }), { maxLength: 20 }), (clean) => {
        const places = weakPlaces([played(...clean)]);
        const bars = places.flatMap(({ from, to }) => (from === to ? [from] : [from, to]));
        expect(new Set(bars).size).toBe(bars.length);
        const uppers = places.map(({ interval }) => interval.upper);
        expect(uppers).toEqual(uppers.toSorted((one, other) => one - other));
      }),
    );
  });
});
