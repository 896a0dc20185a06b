/**
 * Events of a take as compact bytes, about nine for a note with its key-up. Times are whole microseconds: the session
 * rounds to them before anything is graded, so nothing is lost here.
 *
 * An event is its time, as the difference to the event before in zigzag base-128 digits (low ones first, the high bit
 * says more follow), then one or two bytes: a key-up is 128 + key; a key-down is key and velocity; what is neither is
 * key 0 and a second byte from 128. From 192 on that byte is no event: the events after it come from source byte − 192, those
 * before any such byte from source 0. A source of 0 reads back as none, which says the same.
 */

import { deflateRawSync, inflateRawSync } from 'node:zlib';
import { FURTHEST_MS, MOST_SOURCES, type TakeEvent } from '../../core/take/model.ts';

const MICROSECONDS = 1000;

const FIRST_SOURCE = 192;

const SPECIAL = [
  { kind: 'pedal', down: false },
  { kind: 'pedal', down: true },
  { kind: 'allOff', cause: 'allNotesOff' },
  { kind: 'allOff', cause: 'disconnect' },
] as const;

/** Events in any order of time to bytes; times are rounded to microseconds. */
export function encodeEvents(events: readonly TakeEvent[]): Uint8Array {
  const bytes: number[] = [];
  let last = 0;
  let lastSource = 0;
  for (const event of events) {
    const { source = 0 } = event;
    if (source !== lastSource) bytes.push(0, 0, FIRST_SOURCE + source);
    lastSource = source;
    const at = Math.round(event.atMs * MICROSECONDS);
    pushNumber(bytes, at - last);
    last = at;
    if (event.kind === 'noteOn') bytes.push(event.midi, event.velocity);
    else if (event.kind === 'noteOff') bytes.push(128 + event.midi);
    else bytes.push(0, 128 + SPECIAL.findIndex((special) => isSame(special, event)));
  }
  return Uint8Array.from(bytes);
}

function isSame(special: (typeof SPECIAL)[number], event: TakeEvent): boolean {
  if (special.kind === 'pedal') return event.kind === 'pedal' && event.down === special.down;
  return event.kind === 'allOff' && event.cause === special.cause;
}

/** Events of a finished take, a third smaller than as they are journalled. */
export function packEvents(events: readonly TakeEvent[]): Uint8Array {
  return deflateRawSync(encodeEvents(events));
}

/** Two million events of nine bytes: no take the bridge lets in unfolds to more. */
const MOST_BYTES = 32 * 2 ** 20;

/** The events of a stored chunk, packed or as journalled; null when the bytes are neither. */
export function unpackEvents(bytes: Uint8Array, deflated: boolean): readonly TakeEvent[] | null {
  if (!deflated) return decodeEvents(bytes);
  try {
    return decodeEvents(inflateRawSync(bytes, { maxOutputLength: MOST_BYTES }));
  } catch {
    return null;
  }
}

/** The inverse of `encodeEvents`; null when the bytes are not what it writes. */
export function decodeEvents(bytes: Uint8Array): readonly TakeEvent[] | null {
  const events: TakeEvent[] = [];
  let at = 0;
  let micros = 0;
  let from: { readonly source?: number } = {};
  while (at < bytes.length) {
    let zigzag = 0;
    let scale = 1;
    for (let more = true; more; scale *= 128) {
      const digit = bytes[at++];
      if (digit === undefined || scale > 2 ** 49) return null;
      zigzag += (digit & 127) * scale;
      more = digit > 127;
    }
    micros += zigzag % 2 === 0 ? zigzag / 2 : -(zigzag + 1) / 2;
    const atMs = micros / MICROSECONDS;
    if (Math.abs(atMs) > FURTHEST_MS) return null;
    const key = bytes[at++];
    if (key === undefined) return null;
    if (key > 127) {
      events.push({ kind: 'noteOff', atMs, midi: key - 128, ...from });
      continue;
    }
    const value = bytes[at++];
    if (value === undefined) return null;
    if (value < 128) events.push({ kind: 'noteOn', atMs, midi: key, velocity: value, ...from });
    else if (value >= FIRST_SOURCE) {
      const source = value - FIRST_SOURCE;
      if (source >= MOST_SOURCES) return null;
      from = source === 0 ? {} : { source };
    } else {
      const special = SPECIAL[value - 128];
      if (special === undefined) return null;
      events.push({ ...special, atMs, ...from });
    }
  }
  return events;
}

/** Events as the library keeps them: their times in whole microseconds. What is graded is what is kept. */
export function asStored(events: readonly TakeEvent[]): readonly TakeEvent[] {
  return events.map((event) => ({
    ...event,
    atMs: Math.round(event.atMs * MICROSECONDS) / MICROSECONDS,
  }));
}

function pushNumber(bytes: number[], value: number): void {
  let rest = value < 0 ? -2 * value - 1 : 2 * value;
  while (rest > 127) {
    bytes.push((rest % 128) + 128);
    rest = Math.floor(rest / 128);
  }
  bytes.push(rest);
}
