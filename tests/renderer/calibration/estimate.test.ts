/** The offset of a keyboard. Synthetic players with a known offset; limits are own rules. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  CALIBRATION_BEAT_MS,
  CALIBRATION_BEATS,
  calibrate,
  FEWEST_KEYS,
} from '../../../src/renderer/calibration/estimate.ts';

function played(offsetsMs: readonly number[]): readonly number[] {
  return offsetsMs.map((offsetMs, beat) => beat * CALIBRATION_BEAT_MS + offsetMs);
}

describe('calibration', () => {
  test('finds a steady player’s offset exactly', () => {
    const found = calibrate(played(Array.from({ length: CALIBRATION_BEATS }, () => 42)));
    expect(found).toMatchObject({ kind: 'found', latencyMs: 42, spreadMs: 0, isLoose: false });
  });

  test('three slips of sixteen move it by no more than the steady keys’ own spread', () => {
    const spread = fc.array(fc.integer({ min: -10, max: 10 }), {
      minLength: CALIBRATION_BEATS,
      maxLength: CALIBRATION_BEATS,
    });
    const slips = fc.array(fc.integer({ min: -330, max: 330 }), { minLength: 3, maxLength: 3 });
    fc.assert(
      fc.property(spread, slips, fc.integer({ min: -40, max: 40 }), (noise, slipped, offset) => {
        const offsets = noise.map((ms, beat) => offset + (slipped[beat] ?? ms));
        const found = calibrate(played(offsets));
        if (found.kind !== 'found') throw new Error('nothing found');
        expect(Math.abs(found.latencyMs - offset)).toBeLessThanOrEqual(10);
      }),
    );
  });

  test('one key fewer than needed says nothing', () => {
    const keys = played(Array.from({ length: FEWEST_KEYS }, () => 5));
    expect(calibrate(keys).kind).toBe('found');
    expect(calibrate(keys.slice(1))).toEqual({ kind: 'tooFew', keys: FEWEST_KEYS - 1 });
  });

  test('a player all over the place is told so', () => {
    const offsets = Array.from({ length: 16 }, (_, beat) => (beat % 2 === 0 ? -60 : 60));
    expect(calibrate(played(offsets))).toMatchObject({ isLoose: true });
  });
});
