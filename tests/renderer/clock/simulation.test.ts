/**
 * The clock against simulated readings at three jitters. The limits are those of the issue (doubted within 150 ms, decided
 * within 250, no false jump in an hour), and for errors what median and slope came to in the first simulation of filters, rounded
 * up. Large counts: `npm run bench -- clock`.
 */

import { describe, expect, test } from 'vitest';
import { falseJumps, troubledRun } from '../../helpers/clock-simulation.ts';

const SEEDS = Array.from({ length: 8 }, (_, index) => index + 1);

function p99(samples: readonly number[]): number {
  const sorted = samples.toSorted((one, other) => one - other);
  return sorted[Math.floor(0.99 * sorted.length)] ?? Number.NaN;
}

describe.each([
  { jitterMs: 0.1, firstMs: 0.3, settledMs: 0.15, tornMs: 0.2 },
  { jitterMs: 1, firstMs: 0.8, settledMs: 0.5, tornMs: 0.8 },
  { jitterMs: 5, firstMs: 3, settledMs: 2.2, tornMs: 3 },
])('readings wrong by up to $jitterMs ms', ({ jitterMs, firstMs, settledMs, tornMs }) => {
  const runs = SEEDS.map((seed) => troubledRun(seed, jitterMs, seed * 4.7));

  test('give the time heard, from the first seconds on and after a torn reading', () => {
    expect(p99(runs.flatMap((run) => run.firstMs))).toBeLessThan(firstMs);
    expect(p99(runs.flatMap((run) => run.settledMs))).toBeLessThan(settledMs);
    expect(Math.max(...runs.map((run) => run.worstAfterTornMs))).toBeLessThan(tornMs);
  });

  test('tell a shift of 40 ms and a stall: doubted within 150 ms, decided within 250', () => {
    for (const run of runs) {
      expect(run.shiftDoubtedMs).toBeLessThanOrEqual(150);
      expect(run.shiftToldMs).toBeLessThanOrEqual(250);
      expect(run.stallDoubtedMs).toBeLessThanOrEqual(150);
      expect(run.stallToldMs).toBeLessThanOrEqual(250);
      expect(run.worstAfterStallMs).toBeLessThan(1 + jitterMs);
    }
  });

  test('tell no jump where there was none', () => {
    expect(falseJumps(77, jitterMs, 3)).toBe(0);
  });
});
