/** The player's own instrument as a sounding part: sounds as MIDI messages, sent ahead with their times. */

import { WebMidi } from 'webmidi';
import type { MidiSink, SoundEvent } from '../audio/index.ts';

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

export interface TimedMessage {
  readonly bytes: readonly [number, number, number];
  readonly atMs: number;
}

/** The note-on and note-off of a sound that is heard at a time. */
export function messagesOf(event: SoundEvent, atMs: number): readonly TimedMessage[] {
  const channel = CHANNELS[event.kind];
  const isClick = event.kind === 'click';
  const midi = isClick ? (event.strength === 'accent' ? HIGH_BLOCK : LOW_BLOCK) : event.midi;
  const velocity = isClick ? CLICK_VELOCITY[event.strength] : event.velocity;
  const heldMs = isClick ? CLICK_HELD_MS : event.durationMs;
  return [
    { bytes: [0x90 | channel, midi, velocity], atMs },
    { bytes: [0x80 | channel, midi, 0], atMs: atMs + heldMs },
  ];
}

/** The instrument on a MIDI output, or null when it is not there. MIDI must have been enabled. */
export function instrumentOn(outputName: string): MidiSink | null {
  const find = () => WebMidi.outputs.find(({ name }) => name === outputName);
  if (find() === undefined) return null;
  return {
    play(event, atMs) {
      // Looked for each time: it may be unplugged and plugged in again.
      const output = find();
      if (output === undefined) return;
      for (const { bytes, atMs: time } of messagesOf(event, atMs))
        output.send([...bytes], { time });
    },
    silence() {
      const output = find();
      output?.clear();
      for (const channel of Object.values(CHANNELS)) output?.send([0xb0 | channel, 123, 0]);
    },
  };
}
