/** The key of the piano, or the pedal, that starts and stops a take. */

import { describe, expect, test } from 'vitest';
import { isSignal } from '../../../src/renderer/run/start-signal.ts';

describe('the start signal', () => {
  const down = { kind: 'noteOn', atMs: 0, midi: 21, velocity: 60 } as const;

  test('is the very key, or the pedal going down, or nothing', () => {
    expect(isSignal(down, { kind: 'note', midi: 21 })).toBe(true);
    expect(isSignal(down, { kind: 'note', midi: 22 })).toBe(false);
    expect(isSignal(down, { kind: 'pedal' })).toBe(false);
    expect(isSignal({ kind: 'pedal', atMs: 0, down: true }, { kind: 'pedal' })).toBe(true);
    expect(isSignal({ kind: 'pedal', atMs: 0, down: false }, { kind: 'pedal' })).toBe(false);
    expect(isSignal(down, { kind: 'none' })).toBe(false);
  });
});
