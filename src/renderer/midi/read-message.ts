/** From the bytes of a MIDI message to a key event. Source: MIDI 1.0 Detailed Specification 4.2.1, p. 10–25. */

import type { PlayedKey } from '../session/live-take.ts';

const SUSTAIN = 64;
const ALL_SOUND_OFF = 120;
const FIRST_NOTES_OFF = 123;

/** The event of a channel message at a time, or null for one that is none of ours: clock, active sensing, others. */
export function readMessage(bytes: ArrayLike<number>, atMs: number): PlayedKey | null {
  const status = bytes[0] ?? 0;
  const data1 = bytes[1] ?? 0;
  const data2 = bytes[2] ?? 0;
  switch (status >> 4) {
    case 9:
      return data2 > 0
        ? { kind: 'noteOn', atMs, midi: data1, velocity: data2 }
        : { kind: 'noteOff', atMs, midi: data1 };
    case 8:
      return { kind: 'noteOff', atMs, midi: data1 };
    case 11:
      if (data1 === SUSTAIN) return { kind: 'pedal', atMs, down: data2 >= 64 };
      return data1 === ALL_SOUND_OFF || data1 >= FIRST_NOTES_OFF
        ? { kind: 'allOff', atMs, cause: 'allNotesOff' }
        : null;
    default:
      return null;
  }
}
