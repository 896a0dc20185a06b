/** From MIDI channel messages to events of a take, the same from a port and from a file. */

import type { TakeEvent } from './model.ts';

const SUSTAIN = 64;
const ALL_SOUND_OFF = 120;
const FIRST_NOTES_OFF = 123;

/** The pedal goes down at this value. Source: MIDI 1.0 Detailed Specification 4.2.1, p. 12 (0–63 off, 64–127 on). */
export const PEDAL_DOWN_FROM = 64;
/**
 * And it is up again below this one. Lower than where it goes down, so that a continuous pedal held near the middle does
 * not go up and down by itself; above where a foot that rests on it, or a worn potentiometer, leaves it. Own rule.
 */
export const PEDAL_UP_BELOW = 40;

/** Reads the next message: status byte with its channel, the two data bytes (0 where there is none), its time. */
export type KeyReader = (
  status: number,
  data1: number,
  data2: number,
  atMs: number,
) => TakeEvent | null;

/**
 * A reader of the messages of one device, or of one track of a file, in their order. It answers the event of a message,
 * or null for one that is none of ours: other controllers, clock, active sensing, and each value of a pedal by which it
 * neither goes down nor up. Each channel has a pedal of its own, which is up at first.
 * Source: MIDI 1.0 Detailed Specification 4.2.1: note messages p. 10, switches p. 12, mode messages p. 20–25. A
 * departure from p. 12: a pedal that is down stays so down to `PEDAL_UP_BELOW`.
 */
export function createKeyReader(): KeyReader {
  const isDown = new Array<boolean>(16).fill(false);
  return (status, data1, data2, atMs) => {
    switch (status >> 4) {
      case 9:
        return data2 > 0
          ? { kind: 'noteOn', atMs, midi: data1, velocity: data2 }
          : { kind: 'noteOff', atMs, midi: data1 };
      case 8:
        return { kind: 'noteOff', atMs, midi: data1 };
      case 11: {
        if (data1 === SUSTAIN) {
          const channel = status & 15;
          const wasDown = isDown[channel] ?? false;
          const down = data2 >= (wasDown ? PEDAL_UP_BELOW : PEDAL_DOWN_FROM);
          isDown[channel] = down;
          return down === wasDown ? null : { kind: 'pedal', atMs, down };
        }
        return data1 === ALL_SOUND_OFF || data1 >= FIRST_NOTES_OFF
          ? { kind: 'allOff', atMs, cause: 'allNotesOff' }
          : null;
      }
      default:
        return null;
    }
  };
}
