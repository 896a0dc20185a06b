/** Events as bytes: there and back, and their size. Own format, described in its module. */

import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { TakeEvent } from '../../../src/core/take/model.ts';
import { decodeEvents, encodeEvents } from '../../../src/main/store/event-codec.ts';
import { longTake } from '../../bench/long-take.ts';

const key = fc.integer({ min: 0, max: 127 });
/** Whole microseconds, before and after the first downbeat, up to a day. */
const atMs = fc.integer({ min: -60_000_000, max: 86_400_000_000 }).map((micros) => micros / 1000);

const anyEvent: fc.Arbitrary<TakeEvent> = fc.oneof(
  fc.record({ kind: fc.constant('noteOn' as const), atMs, midi: key, velocity: key }),
  fc.record({ kind: fc.constant('noteOff' as const), atMs, midi: key }),
  fc.record({ kind: fc.constant('pedal' as const), atMs, down: fc.boolean() }),
  fc.record({
    kind: fc.constant('allOff' as const),
    atMs,
    cause: fc.constantFrom('allNotesOff' as const, 'disconnect' as const),
  }),
);

test('events come back as they were, in whatever order', () => {
  fc.assert(
    fc.property(fc.array(anyEvent, { maxLength: 50 }), (events) => {
      expect(decodeEvents(encodeEvents(events))).toEqual(events);
    }),
  );
});

test('any bytes give events or null, never an exception', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 100 }), (bytes) => {
      const events = decodeEvents(bytes);
      expect(events === null || Array.isArray(events)).toBe(true);
    }),
    { numRuns: 2000 },
  );
});

test('bytes that break off are refused', () => {
  const bytes = encodeEvents([{ kind: 'noteOn', atMs: 1234.567, midi: 60, velocity: 80 }]);
  for (let length = 1; length < bytes.length; length++) {
    expect(decodeEvents(bytes.subarray(0, length))).toBeNull();
  }
});

test('a note with its key-up takes at most twelve bytes', () => {
  const { events } = longTake(5000);
  const notes = events.filter(({ kind }) => kind === 'noteOn').length;
  expect(encodeEvents(events).length / notes).toBeLessThanOrEqual(12);
});
