/** The edges of a steady swing and offset. Expected values: `grading.md`, "Steady swing and offset". */

import { describe, expect, it } from 'vitest';
import { type GradeSettings, gradeTake } from '../../../../src/core/grading/index.ts';
import { layGround } from '../../../../src/core/grading/readings/ground.ts';
import { measureSteady } from '../../../../src/core/grading/readings/steady.ts';
import {
  bar,
  C_IONIAN,
  formOf,
  lineEvents,
  type PlayedNote,
  STEADY_60,
} from '../../../helpers/hand-made.ts';

/** Eighths of 500 ms at 60 beats a minute; the tolerance is 75 ms. */
const FORM = formOf(Array.from({ length: 8 }, () => bar(C_IONIAN)));
const EIGHTH_MS = 500;
const TOLERANCE_MS = 75;

/** Up and down a step, each note so far off its slot. */
function notes(count: number, offMs: (slot: number) => number): readonly PlayedNote[] {
  return Array.from({ length: count }, (_, slot) => ({
    name: slot % 2 === 0 ? 'C4' : 'D4',
    offMs: offMs(slot),
  }));
}

function steadyOf(line: readonly PlayedNote[], settings: Partial<GradeSettings> = {}) {
  const complete: GradeSettings = { level: 'steps', tempo: STEADY_60, ...settings };
  const take = lineEvents(FORM, line, settings);
  const base = gradeTake(FORM, take, complete);
  return measureSteady(layGround(FORM, take, complete, base));
}

/** How far off its straight place an off-beat lies in a swing of a ratio. */
const swungMs = (ratio: number): number => (ratio / (1 + ratio)) * 2 * EIGHTH_MS - EIGHTH_MS;

describe('steady swing', () => {
  const swung = (beats: number, ratio: (beat: number) => number) =>
    notes(2 * beats + 1, (slot) => (slot % 2 === 1 ? swungMs(ratio((slot - 1) / 2)) : 0));

  it.each([
    [15, null],
    [16, 2],
    [17, 2],
  ])('over %i beats: %j', (beats, swing) => {
    expect(steadyOf(swung(beats, () => 2)).swing).toBe(swing);
  });

  it.each([
    [1.24, null],
    [1.25, null],
    [1.26, 1.26],
  ])('at a ratio of %d where straight is set: %j', (ratio, swing) => {
    expect(steadyOf(swung(20, () => ratio)).swing).toBe(swing);
  });

  it.each([
    [1.76, null],
    [1.74, 1.74],
    [1, 1],
  ])('at a ratio of %d where 2 is set: %j', (ratio, swing) => {
    const straight = swung(20, () => ratio).map((note, slot) => ({
      ...note,
      offMs: slot % 2 === 1 ? swungMs(ratio) - swungMs(2) : 0,
    }));
    expect(steadyOf(straight, { swing: 2 }).swing).toBe(swing);
  });

  // Ten of twenty beats at the median, the others half below and half above it by so much.
  it.each([
    [0.34, 2],
    [0.35, 2],
    [0.36, null],
  ])('with 12 of 20 ratios %d from the median: %j', (away, swing) => {
    const ratio = (beat: number): number => (beat < 8 ? 2 : beat < 14 ? 2 - away : 2 + away);
    expect(steadyOf(swung(20, ratio)).swing).toBe(swing);
  });

  it('is not told of where the ratio lies beyond what can be set', () => {
    // Rushed off-beats, 1 : 2. A swing under 1 cannot be set, and 1 is.
    expect(steadyOf(swung(20, () => 0.5)).swing).toBe(null);
  });

  it('is not told of at free', () => {
    expect(
      steadyOf(
        swung(20, () => 2),
        { level: 'free' },
      ).swing,
    ).toBe(null);
  });
});

describe('steady offset', () => {
  it.each([
    [31, null],
    [32, 50],
    [33, 50],
  ])('over %i notes: %j', (count, offsetMs) => {
    expect(steadyOf(notes(count, () => 50)).offsetMs).toBe(offsetMs);
  });

  it.each([
    [TOLERANCE_MS / 2 - 1, null],
    [TOLERANCE_MS / 2, null],
    [TOLERANCE_MS / 2 + 1, 39],
    [-TOLERANCE_MS / 2, null],
    [-TOLERANCE_MS / 2 - 1, -38],
  ])('of %d ms, half the tolerance being 37.5: %j', (offMs, offsetMs) => {
    expect(steadyOf(notes(40, () => offMs)).offsetMs).toBe(offsetMs);
  });

  it.each([
    [19, null],
    [20, null],
    [21, 21],
  ])('of %d ms where the tolerance is 30: %j', (offMs, offsetMs) => {
    expect(
      steadyOf(
        notes(40, () => offMs),
        { toleranceMs: 30 },
      ).offsetMs,
    ).toBe(offsetMs);
  });

  // Half of the notes at 60 ± d: the median absolute deviation is d, and 1.4826 d may be 30 at most, which is d = 20.23.
  it.each([
    [20, 60],
    [20.2, 60],
    [20.3, null],
  ])('of 60 ms, spread by %d: %j', (spreadMs, offsetMs) => {
    const line = notes(41, (slot) => 60 + (slot === 0 ? 0 : slot % 2 === 0 ? spreadMs : -spreadMs));
    expect(steadyOf(line).offsetMs).toBe(offsetMs);
  });

  it('is told by the notes on beats alone where there is a steady swing', () => {
    const line = notes(41, (slot) => (slot % 2 === 1 ? swungMs(2) : 0) - 45);
    expect(steadyOf(line)).toEqual({ swing: 2, offsetMs: -45 });
  });
});
