/** Events as bytes: there and back, and their size. Own format, described in its module. */

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { MOST_SOURCES, type TakeEvent } from '../../../src/core/take/model.ts';
import { decodeEvents, encodeEvents } from '../../../src/main/store/event-codec.ts';
import { longTake } from '../../bench/long-take.ts';

const key = fc.integer({ min: 0, max: 127 });
/** Whole microseconds, before and after the first downbeat, up to a day. */
const atMs = fc.integer({ min: -60_000_000, max: 86_400_000_000 }).map((micros) => micros / 1000);

/** The first keyboard is not named, as in all takes of one. */
const anySource = fc.option(fc.integer({ min: 1, max: MOST_SOURCES - 1 }), { nil: null });

const anyKeyEvent: fc.Arbitrary<TakeEvent> = fc.oneof(
  fc.record({ kind: fc.constant('noteOn' as const), atMs, midi: key, velocity: key }),
  fc.record({ kind: fc.constant('noteOff' as const), atMs, midi: key }),
  fc.record({ kind: fc.constant('pedal' as const), atMs, down: fc.boolean() }),
  fc.record({
    kind: fc.constant('allOff' as const),
    atMs,
    cause: fc.constantFrom('allNotesOff' as const, 'disconnect' as const),
  }),
);
const anyEvent = fc
  .tuple(anyKeyEvent, anySource)
  .map(([event, source]) => (source === null ? event : { ...event, source }));

test('events come back as they were, in whatever order', () => {
  fc.assert(
    fc.property(fc.array(anyEvent, { maxLength: 50 }), (events) => {
      expect(decodeEvents(encodeEvents(events))).toEqual(events);
    }),
  );
});

test('bytes from before events had sources read as they did', () => {
  // Worked by hand from the description of the format: 1 ms is zigzag 2000 = 80 + 15 × 128.
  const bytes = Uint8Array.of(0xd0, 15, 60, 80, 0xd0, 15, 128 + 60, 0, 0, 129);
  expect(decodeEvents(bytes)).toEqual([
    { kind: 'noteOn', atMs: 1, midi: 60, velocity: 80 },
    { kind: 'noteOff', atMs: 2, midi: 60 },
    { kind: 'pedal', atMs: 2, down: true },
  ]);
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
