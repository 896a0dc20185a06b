/** What messages say, one after another. Source: MIDI 1.0 Detailed Specification 4.2.1, p. 12; hysteresis: own rule. */

import { describe, expect, test } from 'vitest';
import { createKeyReader } from '../../../src/core/take/key-message.ts';

/** The pedal's way as events: `true` down, `false` up, in order. */
function pedalEvents(values: readonly number[], channel = 0): readonly boolean[] {
  const read = createKeyReader();
  return values.flatMap((value, index) => {
    const event = read(0xb0 | channel, 64, value, index);
    return event?.kind === 'pedal' ? [event.down] : [];
  });
}

describe('a pedal', () => {
  test('that is continuous goes down once, however many values say so', () => {
    expect(pedalEvents([20, 63, 118, 95, 70, 50])).toEqual([true]);
    expect(pedalEvents([118, 95, 70, 50, 20, 0])).toEqual([true, false]);
  });

  test.each([
    ['63 is not down yet', [63], []],
    ['64 is down', [64], [true]],
    ['40 is down still', [64, 40], [true]],
    ['39 is up', [64, 39], [true, false]],
  ])('%s', (_words, values, events) => expect(pedalEvents(values)).toEqual(events));

  test('held near the middle does not tremble', () => {
    const trembling = Array.from({ length: 1000 }, (_, time) => (time % 2 === 0 ? 66 : 58));
    expect(pedalEvents(trembling)).toEqual([true]);
  });

  test('that is a switch goes down and up each time', () => {
    expect(pedalEvents([127, 0, 127, 0, 0])).toEqual([true, false, true, false]);
  });

  test('of another channel is another pedal', () => {
    const read = createKeyReader();
    expect(read(0xb0, 64, 127, 1)).toEqual({ kind: 'pedal', atMs: 1, down: true });
    expect(read(0xb1, 64, 127, 2)).toEqual({ kind: 'pedal', atMs: 2, down: true });
    expect(read(0xb1, 64, 0, 3)).toEqual({ kind: 'pedal', atMs: 3, down: false });
    expect(read(0xb0, 64, 0, 4)).toEqual({ kind: 'pedal', atMs: 4, down: false });
  });

  test('of another reader is another pedal', () => {
    const [one, other] = [createKeyReader(), createKeyReader()];
    expect(one(0xb0, 64, 127, 1)).not.toBeNull();
    expect(other(0xb0, 64, 127, 1)).not.toBeNull();
  });
});
