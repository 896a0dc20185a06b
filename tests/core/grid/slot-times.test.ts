/** Slot and beat times. Figures: tempo arithmetic (60000 / bpm), worked out independently and rounded to 0.001 ms. */

import { describe, expect, test } from 'vitest';
import {
  createBeatClock,
  createSlotGrid,
  openingTempoBpm,
  slotFraction,
} from '../../../src/core/grid/index.ts';
import { C_DORIAN, C_IONIAN, formOf } from '../../helpers/hand-made.ts';

const FOUR_FOUR = formOf([[{ beats: 4, palette: C_IONIAN }]]);
const TWELVE_EIGHT = formOf([[{ beats: 4, palette: C_IONIAN }]], { count: 12, unit: 8 });
const SIX_EIGHT = formOf([[{ beats: 2, palette: C_IONIAN }]], { count: 6, unit: 8 });

function gridOf(form: typeof FOUR_FOUR, tempoBpm: number, swing = 1) {
  const clock = createBeatClock(form, { kind: 'steady', tempoBpm });
  return createSlotGrid(form, clock, { slotsPerBeat: null, swing, choruses: null });
}

describe('simple meters', () => {
  test.each([
    [60, 500, 600, 666.667, 750, 4000],
    [72, 416.667, 500, 555.556, 625, 3333.333],
    [76, 394.737, 473.684, 526.316, 592.105, 3157.895],
    [100, 300, 360, 400, 450, 2400],
    [120, 250, 300, 333.333, 375, 2000],
    [160, 187.5, 225, 250, 281.25, 1500],
  ])(
    'at %s bpm the off-beat and the bar lie where they should',
    (bpm, straight, r15, r2, r3, bar) => {
      expect(gridOf(FOUR_FOUR, bpm).timeMs(1)).toBeCloseTo(straight, 3);
      expect(gridOf(FOUR_FOUR, bpm, 1.5).timeMs(1)).toBeCloseTo(r15, 3);
      expect(gridOf(FOUR_FOUR, bpm, 2).timeMs(1)).toBeCloseTo(r2, 3);
      expect(gridOf(FOUR_FOUR, bpm, 3).timeMs(1)).toBeCloseTo(r3, 3);
      expect(gridOf(FOUR_FOUR, bpm).timeMs(8)).toBeCloseTo(bar, 3);
    },
  );
});

describe('compound meters: the tempo counts dotted quarters', () => {
  test.each([
    [60, 333.333, 2000, 4000],
    [72, 277.778, 1666.667, 3333.333],
    [76, 263.158, 1578.947, 3157.895],
    [100, 200, 1200, 2400],
    [120, 166.667, 1000, 2000],
    [160, 125, 750, 1500],
  ])('at %s bpm', (bpm, eighth, sixEight, twelveEight) => {
    expect(gridOf(SIX_EIGHT, bpm).timeMs(1)).toBeCloseTo(eighth, 3);
    expect(gridOf(SIX_EIGHT, bpm).timeMs(6)).toBeCloseTo(sixEight, 3);
    expect(gridOf(TWELVE_EIGHT, bpm).timeMs(12)).toBeCloseTo(twelveEight, 3);
  });
});

describe('a file’s tempo map counts quarters', () => {
  const steady = {
    kind: 'mapped',
    points: [{ atMs: 0, atQuarter: 0, msPerQuarter: 1000 }],
  } as const;

  test('so a bar of 12/8 lasts six of them', () => {
    const clock = createBeatClock(TWELVE_EIGHT, steady);
    expect(clock.timeMs(4)).toBe(6000);
    expect(clock.beatAt(6000)).toBeCloseTo(4);
    expect(openingTempoBpm(TWELVE_EIGHT, steady)).toBe(40);
  });

  test('and changes of tempo add up exactly', () => {
    const clock = createBeatClock(FOUR_FOUR, {
      kind: 'mapped',
      points: [
        { atMs: 0, atQuarter: 0, msPerQuarter: 1000 },
        { atMs: 4000, atQuarter: 4, msPerQuarter: 500 },
        { atMs: 5000, atQuarter: 6, msPerQuarter: 2000 },
      ],
    });
    expect([-1, 0, 3.5, 4, 5, 6, 7].map((beat) => clock.timeMs(beat))).toEqual([
      -1000, 0, 3500, 4000, 4500, 5000, 7000,
    ]);
    for (const beat of [-1, 0.25, 4, 4.5, 6, 9]) {
      expect(clock.beatAt(clock.timeMs(beat))).toBeCloseTo(beat, 9);
    }
  });

  test('a tempo read back from whole microseconds is rounded to a thousandth', () => {
    // 72 bpm is stored as 833333 µs per quarter and reads back as 72.00003 (Standard MIDI Files 1.0, set tempo).
    const points = [{ atMs: 0, atQuarter: 0, msPerQuarter: 833.333 }];
    expect(openingTempoBpm(FOUR_FOUR, { kind: 'mapped', points })).toBe(72);
  });
});

describe('a form that mixes meters', () => {
  const mixed = {
    ...FOUR_FOUR,
    bars: [
      ...formOf([[{ beats: 3, palette: C_IONIAN }]], { count: 3, unit: 4 }).bars,
      ...formOf([[{ beats: 2, palette: C_DORIAN }]], { count: 6, unit: 8 }).bars,
    ],
  };

  test('has two slots in a quarter and three in a dotted quarter', () => {
    const grid = gridOf(mixed, 60);
    expect(grid.slotsPerChorus).toBe(12);
    expect([6, 7, 8, 9, 12].map((slot) => Math.round(grid.timeMs(slot)))).toEqual([
      3000, 3333, 3667, 4000, 5000,
    ]);
  });

  test('under a tempo map its compound beats last one and a half quarters', () => {
    const points = [{ atMs: 0, atQuarter: 0, msPerQuarter: 1000 }];
    const clock = createBeatClock(mixed, { kind: 'mapped', points });
    expect([3, 4, 5, 8, 9].map((beat) => clock.timeMs(beat))).toEqual([
      3000, 4500, 6000, 9000, 10500,
    ]);
    for (const beat of [0.5, 3.5, 4.25, 8.75]) {
      expect(clock.beatAt(clock.timeMs(beat))).toBeCloseTo(beat, 9);
    }
  });
});

test('slots divide a beat evenly but for swing, which moves the second of two', () => {
  expect([0, 1, 2].map((sub) => slotFraction(sub, 3, 2, { unit: 8 }))).toEqual([0, 1 / 3, 2 / 3]);
  expect([0, 1].map((sub) => slotFraction(sub, 2, 1, { unit: 4 }))).toEqual([0, 0.5]);
  expect(slotFraction(1, 2, 2, { unit: 4 })).toBeCloseTo(2 / 3);
  // Two eighths to half of a half note: 2/3 and 1/3 of a quarter.
  [0, 1 / 3, 1 / 2, 5 / 6].forEach((fraction, sub) => {
    expect(slotFraction(sub, 4, 2, { unit: 2 })).toBeCloseTo(fraction);
  });
  // Sixteenths do not swing, nor do two quarters to a half note.
  expect(slotFraction(1, 4, 2, { unit: 4 })).toBe(0.25);
  expect(slotFraction(1, 2, 2, { unit: 2 })).toBe(0.5);
});

test('a slot knows its bar, beat, chord and place in the beat', () => {
  const form = formOf([
    [{ beats: 4, palette: C_IONIAN }],
    [
      { beats: 2, palette: C_DORIAN },
      { beats: 2, palette: C_IONIAN },
    ],
  ]);
  const grid = gridOf(form, 60);
  expect(grid.slots[13]).toEqual({
    barIndex: 1,
    beat: 3,
    chord: 2,
    sub: 1,
    beatInChorus: 6,
    fraction: 0.5,
    slotsInBeat: 2,
  });
  expect(grid.timeMs(16 + 13)).toBe(14_500);
});
