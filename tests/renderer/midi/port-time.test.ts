/** Times of a port's events. Own rules: a second back is believed, and time within a port does not go back. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createPortTime } from '../../../src/renderer/midi/port-time.ts';

const NOW = { nowMs: 10_000, aliveMs: 10_000 };

describe('the time of an event', () => {
  test.each([
    ['its stamp', 9_990.25, 9_990.25],
    ['its stamp, a second back', 9_000, 9_000],
    ['its stamp, of this very moment', 10_000, 10_000],
    ['the arrival, where the stamp is further back', 8_999.9, 10_000],
    ['the arrival, where the stamp is ahead', 10_000.1, 10_000],
    ['the arrival, without a stamp', undefined, 10_000],
    ['the arrival, where the stamp is no number', Number.NaN, 10_000],
    ['the arrival, where the stamp is zero', 0, 10_000],
  ])('is %s', (_words, stamp, time) => expect(createPortTime()(stamp, NOW)).toBe(time));

  test('is no zero while the page is young', () => {
    expect(createPortTime()(0, { nowMs: 300, aliveMs: 300 })).toBe(300);
  });

  test('is its stamp after the page was held up', () => {
    expect(createPortTime()(5_000, { nowMs: 10_000, aliveMs: 5_900 })).toBe(5_000);
    expect(createPortTime()(4_800, { nowMs: 10_000, aliveMs: 5_900 })).toBe(10_000);
  });

  test('does not go back within a port, and does in another', () => {
    const [one, other] = [createPortTime(), createPortTime()];
    expect(one(undefined, NOW)).toBe(10_000);
    expect(one(9_995, NOW)).toBe(10_000);
    expect(other(9_995, NOW)).toBe(9_995);
  });

  test('is one, and no later than now, whatever a port says', () => {
    const stamp = fc.oneof(fc.double(), fc.constant(undefined), fc.double({ min: 0, max: 3000 }));
    fc.assert(
      fc.property(fc.array(fc.tuple(stamp, fc.nat(50))), (events) => {
        const timeOf = createPortTime();
        let nowMs = 1;
        let lastMs = 0;
        for (const [stampMs, passedMs] of events) {
          nowMs += passedMs;
          const atMs = timeOf(stampMs, { nowMs, aliveMs: nowMs });
          expect(atMs).toBeGreaterThanOrEqual(lastMs);
          expect(atMs).toBeLessThanOrEqual(nowMs);
          lastMs = atMs;
        }
      }),
    );
  });
});
