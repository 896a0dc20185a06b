/** From a MIDI channel message to an event of a take, the same from a port and from a file. */

import type { TakeEvent } from './model.ts';

const SUSTAIN = 64;
const ALL_SOUND_OFF = 120;
const FIRST_NOTES_OFF = 123;

/**
 * The event of a message at a time, or null for one that is none of ours: other controllers, clock, active sensing. In:
 * status byte with its channel, the two data bytes (0 where there is none).
 * Source: MIDI 1.0 Detailed Specification 4.2.1: note messages p. 10, switches p. 12, mode messages p. 20–25.
 */
export function readKeyMessage(
  status: number,
  data1: number,
  data2: number,
  atMs: number,
): TakeEvent | null {
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
