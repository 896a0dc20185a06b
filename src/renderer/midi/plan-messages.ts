/**
 * Sounds as MIDI messages in the order they are to be sent. Pure. A key has one sound at a time: where it is struck again,
 * the note-off of before goes out clearly ahead of the note-on, so that an instrument which mixes up what lies close together
 * never ends the new sound.
 */

import type { SoundEvent } from '../audio/index.ts';

/** Channels from 0. The tenth is percussion. Source: General MIDI Level 1 (from memory). */
const CHANNELS: Readonly<Record<SoundEvent['kind'], number>> = {
  note: 0,
  bass: 1,
  pad: 2,
  click: 9,
};
/** High and low wood block. Source: General MIDI percussion map (from memory). */
const HIGH_BLOCK = 76;
const LOW_BLOCK = 77;
const CLICK_VELOCITY = { accent: 110, beat: 85, sub: 45 } as const;
const CLICK_HELD_MS = 30;
/** Source: MIDI 1.0 Detailed Specification 4.2.1, p. 20–25, mode messages. */
const ALL_NOTES_OFF = 123;

/** A key that is struck again is let go so long before: a chord takes its cable about that long. Own choice. */
export const RESTRUCK_MS = 5;

/** Any sound lasts so long: its note-off is never of the time of its note-on. */
const SHORTEST_MS = 1;

export interface TimedMessage {
  readonly bytes: readonly [number, number, number];
  /** On the page's clock. */
  readonly atMs: number;
}

/** A key of a channel from its note-on to its note-off, on the score's clock; and on the page's what of it was given out. */
interface Held {
  readonly channel: number;
  readonly midi: number;
  readonly velocity: number;
  readonly onMs: number;
  offMs: number;
  onPageMs: number | null;
  offPageMs: number | null;
}

export interface MessagePlan {
  /** Takes a sound; they come in order, each before anything within `RESTRUCK_MS` of it is asked for. */
  take(event: SoundEvent): void;
  /** The messages up to a time of the score that were not given out yet, in order. */
  due(untilMs: number, pageMsOf: (scoreMs: number) => number): readonly TimedMessage[];
  /** What makes silence from a time of the page on, though all that was given out may be on its way. */
  silence(nowPageMs: number): readonly TimedMessage[];
}

export function planMessages(): MessagePlan {
  let held: readonly Held[] = [];
  const usedChannels = new Set<number>();

  /** A note-on after whatever ended its key before, however the clocks moved in between. */
  function giveOn(key: Held, pageMs: number): TimedMessage {
    key.onPageMs = held
      .flatMap((other) =>
        isSameKey(other, key) && other.offPageMs !== null ? other.offPageMs : [],
      )
      .reduce((atMs, offPageMs) => Math.max(atMs, offPageMs + RESTRUCK_MS), pageMs);
    usedChannels.add(key.channel);
    return { bytes: [0x90 | key.channel, key.midi, key.velocity], atMs: key.onPageMs };
  }

  function giveOff(key: Held, pageMs: number): TimedMessage {
    key.offPageMs = Math.max(pageMs, key.onPageMs ?? pageMs);
    return { bytes: [0x80 | key.channel, key.midi, 0], atMs: key.offPageMs };
  }

  return {
    take(event) {
      const fresh = heldBy(event);
      for (const before of held) {
        if (!isSameKey(before, fresh)) continue;
        const restruckMs = Math.max(before.onMs + SHORTEST_MS, fresh.onMs - RESTRUCK_MS);
        before.offMs = Math.min(before.offMs, restruckMs);
      }
      held = [...held, fresh];
    },
    due(untilMs, pageMsOf) {
      const ons = held.filter(({ onMs, onPageMs }) => onPageMs === null && onMs <= untilMs);
      const offs = held.filter(({ offMs, offPageMs }) => offPageMs === null && offMs <= untilMs);
      const turns = [
        ...offs.map((key) => ({ atMs: key.offMs, give: () => giveOff(key, pageMsOf(key.offMs)) })),
        ...ons.map((key) => ({ atMs: key.onMs, give: () => giveOn(key, pageMsOf(key.onMs)) })),
      ];
      // Stable: of one time, the offs stay before the ons.
      const messages = turns.sort((one, other) => one.atMs - other.atMs).map(({ give }) => give());
      held = held.filter(({ offMs }) => offMs > untilMs - REMEMBERED_MS);
      return messages;
    },
    silence(nowPageMs) {
      const offs = held.flatMap(({ channel, midi, onPageMs, offPageMs }): TimedMessage[] => {
        if (onPageMs === null || (offPageMs !== null && offPageMs < nowPageMs)) return [];
        // What was sent ahead sounds yet where it cannot be taken back.
        const atMs = Math.max(nowPageMs, onPageMs + RESTRUCK_MS);
        return [{ bytes: [0x80 | channel, midi, 0], atMs }];
      });
      held = [];
      const lastMs = Math.max(nowPageMs, ...offs.map(({ atMs }) => atMs));
      const controllers = [...usedChannels].map((channel): TimedMessage => {
        return { bytes: [0xb0 | channel, ALL_NOTES_OFF, 0], atMs: lastMs };
      });
      return [...offs, ...controllers];
    },
  };
}

/** What was given out is known so long, ms: it may lie ahead of the page. */
const REMEMBERED_MS = 1_000;

function isSameKey(one: Held, other: Held): boolean {
  return one.channel === other.channel && one.midi === other.midi;
}

function heldBy(event: SoundEvent): Held {
  const channel = CHANNELS[event.kind];
  const unsent = { onPageMs: null, offPageMs: null };
  const { atMs: onMs } = event;
  if (event.kind === 'click') {
    const midi = event.strength === 'accent' ? HIGH_BLOCK : LOW_BLOCK;
    const velocity = CLICK_VELOCITY[event.strength];
    return { channel, midi, velocity, onMs, offMs: onMs + CLICK_HELD_MS, ...unsent };
  }
  const { midi, velocity, durationMs } = event;
  return {
    channel,
    midi,
    velocity,
    onMs,
    offMs: onMs + Math.max(SHORTEST_MS, durationMs),
    ...unsent,
  };
}
