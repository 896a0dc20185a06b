/**
 * More MIDI than anybody plays, by seeded chance: every port as full as its wire, key-ups that were lost, keys that stay
 * down, controllers, clock and active sensing, time stamps that cannot be, ports that come and go. Each message has the time
 * it was sent and the time it is delivered, a little later and not in step between ports.
 */

import { seededChance } from '../../scripts/demo/random.ts';

/** 31250 baud, ten bits a byte, three bytes a message. Source: MIDI 1.0 Detailed Specification 4.2.1, "Hardware". */
export const MESSAGES_PER_SECOND = 31_250 / 10 / 3;
/** Under the time that delivery may take (`DELIVERY_SLACK_MS`). */
const LATEST_DELIVERY_MS = 40;
/** A port that is plugged in and out by a loose contact does it so often in a row. */
const LOOSE_CONTACT = 20;

/** One message in so many says of its time what cannot be. */
const SOUND_STAMPS = 50;
const ABSURD_STAMPS = [undefined, 0, Number.NaN, -1, 1e15, Number.POSITIVE_INFINITY] as const;

export interface StormMessage {
  readonly sentMs: number;
  /** When the port says it was sent. */
  readonly stampMs: number | undefined;
  readonly deliveredMs: number;
  readonly port: number;
  /** Null: the port has gone. */
  readonly bytes: readonly [number, number, number] | null;
}

/** A storm may begin this long before the first downbeat. */
export const STORM_BEGINS_MS = 10_000;

export interface Storm {
  readonly seed: number;
  readonly ports: number;
  /** Share of the messages that are keys; the rest is what a take does not hold. */
  readonly keys: number;
}

/** The messages sent within a span of time, in order of delivery. Spans may be asked for one after another. */
export function stormBetween(storm: Storm, fromMs: number, toMs: number): readonly StormMessage[] {
  const chance = seededChance(storm.seed * 7919 + Math.round(fromMs) + STORM_BEGINS_MS);
  const out: StormMessage[] = [];
  const stepMs = 1000 / MESSAGES_PER_SECOND;
  for (let port = 0; port < storm.ports; port++) {
    let lastMs = Number.NEGATIVE_INFINITY;
    const send = (sentMs: number, bytes: StormMessage['bytes']): void => {
      // One port delivers in the order it sends.
      lastMs = Math.max(lastMs, sentMs + chance.next() * LATEST_DELIVERY_MS);
      const stamp = Math.floor(chance.next() * SOUND_STAMPS * ABSURD_STAMPS.length);
      const stampMs = stamp < ABSURD_STAMPS.length ? ABSURD_STAMPS[stamp] : sentMs;
      out.push({ sentMs, stampMs, deliveredMs: lastMs, port, bytes });
    };
    for (let sentMs = fromMs; sentMs < toMs; sentMs += stepMs) {
      const key = 48 + Math.floor(chance.next() * 36);
      const velocity = 1 + Math.floor(chance.next() * 127);
      const isKey = chance.next() < storm.keys;
      const kind = chance.next();
      if (isKey && kind < 0.5) send(sentMs, [0x90 | port, key, velocity]);
      // A third of the key-ups never comes.
      else if (isKey && kind < 0.8) send(sentMs, [0x80 | port, key, 64]);
      else if (isKey && kind < 0.9) send(sentMs, [0x90 | port, key, 0]);
      else if (isKey && kind < 0.95) send(sentMs, [0xb0 | port, 64, velocity]);
      else if (isKey && kind < 0.951) send(sentMs, [0xb0 | port, 123, 0]);
      else if (isKey && kind < 0.9511) {
        for (let time = 0; time < LOOSE_CONTACT; time++) send(sentMs, null);
      } else if (kind < 0.5) send(sentMs, [0xfe, 0, 0]);
      else if (kind < 0.8) send(sentMs, [0xf8, 0, 0]);
      else if (kind < 0.9) send(sentMs, [0xe0 | port, key, velocity]);
      else send(sentMs, [0xb0 | port, 1, velocity]);
    }
  }
  return out.sort((one, other) => one.deliveredMs - other.deliveredMs);
}
