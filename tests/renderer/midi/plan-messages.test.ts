/**
 * Sounds as MIDI messages. Status bytes and controller 123: MIDI 1.0 Detailed Specification 4.2.1, p. 9–10 and
 * 20–25; percussion channel 10: from memory. That no off overtakes an on: own rule.
 */

import { describe, expect, test } from 'vitest';
import type { SoundEvent } from '../../../src/renderer/audio/index.ts';
import {
  planMessages,
  RESTRUCK_MS,
  type TimedMessage,
} from '../../../src/renderer/midi/plan-messages.ts';

const same = (scoreMs: number): number => scoreMs;

function pad(atMs: number, durationMs: number, ...keys: readonly number[]): readonly SoundEvent[] {
  return keys.map((midi) => ({ kind: 'pad', atMs, midi, durationMs, velocity: 60 }));
}

function planned(events: readonly SoundEvent[], untilMs: number): readonly TimedMessage[] {
  const plan = planMessages();
  for (const event of events) plan.take(event);
  return plan.due(untilMs, same);
}

/** Plays messages in order of their times and gives the keys that sound at the end. */
function soundingAfter(messages: readonly TimedMessage[]): readonly number[] {
  const sounding = new Set<number>();
  for (const { bytes } of messages.toSorted((one, other) => one.atMs - other.atMs)) {
    const [status, key] = bytes;
    if (status >> 4 === 9) sounding.add(key);
    else if (status >> 4 === 8) sounding.delete(key);
    else if (key === 123) sounding.clear();
  }
  return [...sounding].sort((one, other) => one - other);
}

test('a note goes on and off on its channel', () => {
  const note = { kind: 'bass', atMs: 1000, midi: 36, durationMs: 400, velocity: 90 } as const;
  expect(planned([note], 2000)).toEqual([
    { bytes: [0x91, 36, 90], atMs: 1000 },
    { bytes: [0x81, 36, 0], atMs: 1400 },
  ]);
});

test('a click is percussion, its accent a higher block', () => {
  const clicks = (['accent', 'beat'] as const).map((strength, beat) => {
    return { kind: 'click', atMs: beat * 500, strength } as const;
  });
  const ons = planned(clicks, 2000).filter(({ bytes }) => bytes[0] === 0x99);
  expect(ons.map(({ bytes }) => bytes[1])).toEqual([76, 77]);
});

test('nothing is given out before it is due, and nothing twice', () => {
  const plan = planMessages();
  for (const event of pad(100, 200, 60)) plan.take(event);
  expect(plan.due(99, same)).toEqual([]);
  expect(plan.due(100, same).map(({ atMs }) => atMs)).toEqual([100]);
  expect(plan.due(299, same)).toEqual([]);
  expect(plan.due(300, same).map(({ atMs }) => atMs)).toEqual([300]);
  expect(plan.due(5000, same)).toEqual([]);
});

describe('common tones of two chords', () => {
  const CHORDS = [...pad(0, 1000, 60, 64, 67), ...pad(1000, 1000, 60, 65, 67, 69)];

  test('are let go clearly before they are struck again', () => {
    const messages = planned(CHORDS, 1000).filter(({ bytes }) => bytes[1] === 60);
    expect(messages.map(({ bytes, atMs }) => [bytes[0], atMs])).toEqual([
      [0x92, 0],
      [0x82, 1000 - RESTRUCK_MS],
      [0x92, 1000],
    ]);
  });

  test('sound on an instrument that plays each message up to 0.13 ms early or late', () => {
    for (let seed = 0; seed < 200; seed++) {
      const jittered = planned(CHORDS, 1500).map(({ bytes, atMs }, index) => {
        return { bytes, atMs: atMs + 0.13 * Math.sin(seed * 7.3 + index * 91.7) };
      });
      expect(soundingAfter(jittered)).toEqual([60, 65, 67, 69]);
    }
  });

  test('are struck again also where the first chord was to sound longer', () => {
    const messages = planned([...pad(0, 1400, 60), ...pad(1000, 1000, 60)], 1500);
    expect(messages.map(({ atMs }) => atMs)).toEqual([0, 1000 - RESTRUCK_MS, 1000]);
  });

  test('are not cut off when the clocks move between the off and the on', () => {
    const plan = planMessages();
    for (const event of CHORDS) plan.take(event);
    const early = plan.due(1000 - RESTRUCK_MS, same);
    const late = plan.due(1000, (scoreMs) => scoreMs - 40);
    expect(soundingAfter([...early, ...late])).toEqual([60, 65, 67, 69]);
  });

  test('a sound shorter than the gap still goes on before it goes off', () => {
    const messages = planned([...pad(0, 1000, 60), ...pad(2, 1000, 60)], 500);
    expect(messages.map(({ bytes }) => bytes[0])).toEqual([0x92, 0x82, 0x92]);
  });
});

describe('silence', () => {
  test('ends each key that sounds and tells each channel used, none else', () => {
    const plan = planMessages();
    for (const event of pad(0, 1000, 60, 64)) plan.take(event);
    plan.due(500, same);
    expect(plan.silence(500)).toEqual([
      { bytes: [0x82, 60, 0], atMs: 500 },
      { bytes: [0x82, 64, 0], atMs: 500 },
      { bytes: [0xb2, 123, 0], atMs: 500 },
    ]);
  });

  test('also ends what was sent ahead and cannot be taken back', () => {
    const plan = planMessages();
    for (const event of pad(100, 1000, 60)) plan.take(event);
    const sent = plan.due(100, same);
    expect(soundingAfter([...sent, ...plan.silence(20)])).toEqual([]);
  });

  test('ends a key whose note-off was sent ahead, for that may have been taken back', () => {
    const plan = planMessages();
    for (const event of pad(0, 100, 60)) plan.take(event);
    plan.due(100, same);
    expect(plan.silence(20)[0]).toEqual({ bytes: [0x82, 60, 0], atMs: 20 });
  });

  test('is nothing where nothing sounded', () => {
    expect(planMessages().silence(0)).toEqual([]);
  });
});
