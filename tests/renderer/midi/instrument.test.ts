/** Sounds as MIDI messages. Status bytes: MIDI 1.0 Detailed Specification, p. 9–10; percussion channel 10: from memory. */

import { describe, expect, test } from 'vitest';
import { messagesOf } from '../../../src/renderer/midi/instrument.ts';
import { isSignal } from '../../../src/renderer/screens/play/start-signal.ts';

describe('messages', () => {
  test('a note goes on and off on its channel', () => {
    const note = { kind: 'bass', atMs: 0, midi: 36, durationMs: 400, velocity: 90 } as const;
    expect(messagesOf(note, 1000)).toEqual([
      { bytes: [0x91, 36, 90], atMs: 1000 },
      { bytes: [0x81, 36, 0], atMs: 1400 },
    ]);
  });

  test('a click is percussion', () => {
    const [on] = messagesOf({ kind: 'click', atMs: 0, strength: 'accent' }, 5);
    expect(on?.bytes[0]).toBe(0x99);
  });
});

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
