/** Where the hands part. Expected values: `grading.md`, "Other readings", `split`. */

import { describe, expect, it } from 'vitest';
import { guessSplit } from '../../../../src/core/grading/readings/split-guess.ts';

const HALF_SLOT_MS = 100;

/** So many places a second apart, a low key and a high one so many ms after it. */
function places(count: number, low: number, high: number, afterMs = 0) {
  return Array.from({ length: count }, (_, place) => [
    { midi: low, atMs: place * 1000 },
    { midi: high, atMs: place * 1000 + afterMs },
  ]).flat();
}

const guess = (onsets: Parameters<typeof guessSplit>[0]) => guessSplit(onsets, () => HALF_SLOT_MS);

describe('a split is guessed', () => {
  it.each([
    [7, null],
    [8, 64],
    [9, 64],
  ])('with %i places: %j', (count, split) => {
    expect(guess(places(count, 40, 64))).toBe(split);
  });

  it.each([
    [9, null],
    [10, 50],
    [11, 51],
  ])('with keys %i semitones apart: %j', (apart, split) => {
    expect(guess(places(10, 40, 40 + apart))).toBe(split);
  });

  it.each([
    [99, 64],
    [100, 64],
    [101, null],
  ])('with keys %i ms apart, half a slot being 100: %j', (afterMs, split) => {
    expect(guess(places(10, 40, 64, afterMs))).toBe(split);
  });

  it('above the widest gap, of equal gaps the lower', () => {
    const alone = (midi: number) => ({ midi, atMs: 500 });
    // 40, 48, 64: gaps of 8 and 16.
    expect(guess([...places(10, 40, 64), alone(48)].sort((a, b) => a.atMs - b.atMs))).toBe(64);
    // 40, 52, 64: two gaps of 12.
    expect(guess([...places(10, 40, 64), alone(52)].sort((a, b) => a.atMs - b.atMs))).toBe(52);
  });

  it('above all low keys, however far they lie apart', () => {
    // 30 and 48 in the left hand lie 18 apart, the hands 12.
    const others = places(10, 48, 62).map(({ midi, atMs }) => ({ midi, atMs: atMs + 500 }));
    expect(guess([...places(10, 30, 60), ...others].sort((a, b) => a.atMs - b.atMs))).toBe(60);
  });

  it('counts a chord and the note over it as one place', () => {
    const chords = [0, 1, 2, 3].flatMap((place) =>
      [36, 40, 43, 64].map((midi) => ({ midi, atMs: place * 1000 })),
    );
    expect(guess(chords)).toBe(null);
  });
});
