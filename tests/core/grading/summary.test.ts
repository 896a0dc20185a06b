/** `summary` of `reports.md`, "A take: `linekeeper.report/1`": figures worked by hand; the statistics beside a library's. */

import fc from 'fast-check';
import { linearRegression } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { gradeTake } from '../../../src/core/grading/index.ts';
import { mean, median, slope, standardDeviation } from '../../../src/core/grading/statistics.ts';
import {
  bar,
  C_DORIAN,
  C_IONIAN,
  formOf,
  gradeLine,
  inOrder,
  key,
  STEADY_60,
} from '../../helpers/hand-made.ts';

const form = formOf([bar(C_IONIAN), bar(C_IONIAN)]);
const settings = { level: 'steps', tempo: STEADY_60 } as const;

/** A scale up and down with each note off its slot by so much, in ms. */
function timingOf(offsMs: readonly number[], change: object = {}) {
  const names = ['C4', 'D4', 'E4', 'F4', 'G4', 'F4', 'E4', 'D4'];
  const line = offsMs.map((offMs, slot) => ({ name: names[slot % 8] ?? 'C4', offMs }));
  return gradeLine(form, line, change).summary.timing;
}

describe('timing', () => {
  test('mean, spread and median are those of the deviations', () => {
    // Mean 5, squared distances 9 1 1 1 0 0 4 16 = 32 over 8: the spread of the whole is 2.
    const { meanMs, sdMs, medianMs } = timingOf([2, 4, 4, 4, 5, 5, 7, 9]);
    expect([meanMs, sdMs, medianMs].map((ms) => Math.round((ms ?? 0) * 1e6) / 1e6)).toEqual([
      5, 2, 4.5,
    ]);
  });

  test('the slope is what a bar gains or loses', () => {
    const eighths = Array.from({ length: 16 }, (_, slot) => slot);
    expect(timingOf(eighths.map((slot) => 2 * slot)).slopeMsPerBar).toBeCloseTo(16);
    expect(timingOf(eighths.map((slot) => 10 - slot)).slopeMsPerBar).toBeCloseTo(-8);
    expect(timingOf([3]).slopeMsPerBar).toBeNull();
  });

  test('the slope goes on through the choruses', () => {
    const eighths = Array.from({ length: 32 }, (_, slot) => slot);
    expect(timingOf(eighths, { choruses: 2 }).slopeMsPerBar).toBeCloseTo(8);
  });

  test('gaps are left out', () => {
    const report = gradeLine(form, [{ name: 'C4', offMs: 10 }, null, { name: 'D4', offMs: 20 }]);
    expect(report.summary.timing.meanMs).toBeCloseTo(15);
  });

  test('the swing ratio is the first eighth against the second, the median over whole beats', () => {
    // On-beats 0, 1000, 2000; off-beats at 600 and 1750: 600 : 400 and 750 : 250.
    const keys = [key(0, 'C4'), key(600, 'D4'), key(1000, 'E4'), key(1750, 'F4'), key(2000, 'G4')];
    const { summary } = gradeTake(form, inOrder(keys.flat()), settings);
    expect(summary.timing.swingRatio).toBeCloseTo((600 / 400 + 750 / 250) / 2);
    const cut = gradeTake(form, inOrder(keys.slice(0, 4).flat()), settings);
    expect(cut.summary.timing.swingRatio).toBeCloseTo(1.5);
  });

  test('there is no swing ratio but of eighths', () => {
    const triplets = { slotsPerBeat: 3 } as const;
    expect(gradeLine(form, 'C4 D4 E4 F4 G4 F4', triplets).summary.timing.swingRatio).toBeNull();
  });
});

describe('the line', () => {
  test('range, turns, longest clean run and intervals', () => {
    // Up 2 2, down 2 1, up 5, gap, 0, down 12.
    const { line } = gradeLine(form, 'C4 D4 E4 D4 C#4 F#4 - G4 G4 G3', {
      level: 'leaps',
      approach: 'flag',
    }).summary;
    expect(line).toMatchObject({ lowest: 55, highest: 67, turns: 3, longestRun: 4 });
    expect(line.intervals).toEqual({ 0: 1, 1: 1, 2: 3, 5: 1, 12: 1 });
  });

  test('a repeat is no turn, and does not hide one', () => {
    const open = { level: 'leaps' } as const;
    expect(gradeLine(form, 'C4 D4 D4 E4', open).summary.line.turns).toBe(0);
    expect(gradeLine(form, 'C4 D4 D4 C4', open).summary.line.turns).toBe(1);
  });

  test('chord tones are counted on beats alone', () => {
    // On the beats C E A C of a C triad; off them D F G B.
    const { line } = gradeLine(form, 'C4 D4 E4 F4 A4 G4 C5 B4', { level: 'leaps' }).summary;
    expect(line.chordTonesOnBeats).toBe(3 / 4);
    const none = gradeLine(formOf([bar(null)]), 'C4 D4').summary.line;
    expect(none.chordTonesOnBeats).toBeNull();
  });
});

describe('places', () => {
  test('choruses, bars and beats count from 1, parts of a beat from 0', () => {
    const report = gradeLine(
      formOf([bar(C_IONIAN), bar(C_DORIAN)]),
      Array(19).fill({ name: 'C4' }),
      {
        level: 'leaps',
      },
    );
    const places = [0, 1, 2, 7, 8, 15, 16, 18].map((slot) => report.slots[slot]);
    expect(places.map((at) => at && [at.chorus, at.bar, at.beat, at.sub])).toEqual([
      ...[
        [1, 1, 1, 0],
        [1, 1, 1, 1],
        [1, 1, 2, 0],
        [1, 1, 4, 1],
      ],
      ...[
        [1, 2, 1, 0],
        [1, 2, 4, 1],
        [2, 1, 1, 0],
        [2, 1, 2, 0],
      ],
    ]);
  });
});

describe('statistics', () => {
  const numbers = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 2 });

  test('are null over nothing', () => {
    expect([mean([]), standardDeviation([]), median([]), slope([], [])]).toEqual(
      Array(4).fill(null),
    );
  });

  test('are those of worked examples', () => {
    expect([mean([1, 2, 6]), median([6, 1, 2]), median([4, 1, 2, 3])]).toEqual([3, 2, 2.5]);
    expect(standardDeviation([1, 3])).toBe(1);
    expect([slope([0, 1, 2], [1, 3, 5]), slope([1, 1], [1, 2]), slope([0, 2], [4, 4])]).toEqual([
      ...[2, null, 0],
    ]);
  });

  test('the slope is that of simple-statistics', () => {
    fc.assert(
      fc.property(numbers, (y) => {
        const x = y.map((_, index) => index / 3);
        const { m } = linearRegression(y.map((value, index) => [index / 3, value]));
        expect(slope(x, y)).toBeCloseTo(m, 5);
      }),
    );
  });
});
