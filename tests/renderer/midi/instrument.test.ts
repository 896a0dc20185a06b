/** The player's instrument: what was sent ahead is taken back, whether the system can do that or not. */

import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { instrumentAt } from '../../../src/renderer/midi/instrument.ts';

/** A port that plays messages at their times; `canClear` tells whether it takes back what waits. */
function fakePort(canClear: boolean) {
  let waiting: { readonly bytes: readonly number[]; readonly atMs: number }[] = [];
  return {
    send: (bytes: readonly number[], atMs: number) => waiting.push({ bytes, atMs }),
    clear() {
      if (canClear) waiting = waiting.filter(({ atMs }) => atMs <= performance.now());
    },
    soundingAt(timeMs: number): readonly number[] {
      const sounding = new Set<number>();
      for (const { bytes, atMs } of waiting.toSorted((one, other) => one.atMs - other.atMs)) {
        const [status = 0, key = 0] = bytes;
        if (atMs > timeMs) break;
        if (status >> 4 === 9) sounding.add(key);
        else if (status >> 4 === 8) sounding.delete(key);
      }
      return [...sounding];
    },
  };
}

beforeEach(() => void vi.useFakeTimers({ now: 0 }));
afterEach(() => void vi.useRealTimers());

test.each([true, false])('Stop during a chord is silence within 120 ms (clear: %s)', (canClear) => {
  const port = fakePort(canClear);
  const instrument = instrumentAt(() => port);
  const same = (scoreMs: number): number => scoreMs;
  for (const midi of [60, 64, 67]) {
    instrument.take({ kind: 'pad', atMs: 0, midi, durationMs: 1000, velocity: 60 });
  }
  instrument.take({ kind: 'bass', atMs: 590, midi: 36, durationMs: 400, velocity: 90 });
  vi.advanceTimersByTime(500);
  instrument.sendUntil(600, same);
  expect(port.soundingAt(500)).toEqual([60, 64, 67]);
  instrument.silence();
  expect(port.soundingAt(620)).toEqual([]);
  expect(port.soundingAt(60_000)).toEqual([]);
});

test('an instrument that was unplugged is no error', () => {
  const instrument = instrumentAt(() => null);
  instrument.take({ kind: 'note', atMs: 0, midi: 60, durationMs: 100, velocity: 60 });
  instrument.sendUntil(50, (scoreMs) => scoreMs);
  expect(() => instrument.silence()).not.toThrow();
});
