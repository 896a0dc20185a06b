/** Laws of reading and writing MIDI files, and what hostile bytes get. Own rules; limits stated in the modules. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  decodeSmf,
  describeSmfProblem,
  encodeSmf,
  LARGEST_SMF_BYTES,
  type SmfEvent,
  type SmfFile,
  smfFromTake,
  takeFromSmf,
} from '../../../src/core/take/smf/index.ts';
import { anyTake } from '../../helpers/arbitrary-take.ts';
import { fileOf, hex } from '../../helpers/bytes.ts';

const tick = fc.integer({ min: 0, max: 5000 });
const byte = fc.integer({ min: 0, max: 127 });
const payload = fc.uint8Array({ maxLength: 200 });

const anyEvent: fc.Arbitrary<SmfEvent> = fc.oneof(
  fc.record({
    kind: fc.constant('channel' as const),
    tick,
    status: fc.integer({ min: 0x80, max: 0xef }),
    data1: byte,
    data2: byte,
  }),
  fc.record({
    kind: fc.constant('meta' as const),
    tick,
    // 2F ends the track: it is added at the end.
    type: fc.integer({ min: 0, max: 255 }).filter((type) => type !== 0x2f),
    bytes: payload,
  }),
  fc.record({
    kind: fc.constant('sysex' as const),
    tick,
    status: fc.constantFrom(0xf0 as const, 0xf7 as const),
    bytes: payload,
  }),
);

const anyTrack = fc.array(anyEvent, { maxLength: 40 }).map((events) => {
  const body = events
    .map((event) =>
      event.kind === 'channel' && isOneByte(event.status) ? { ...event, data2: 0 } : event,
    )
    .sort((a, b) => a.tick - b.tick);
  const end: SmfEvent = {
    kind: 'meta',
    tick: body.at(-1)?.tick ?? 0,
    type: 0x2f,
    bytes: new Uint8Array(),
  };
  return [...body, end];
});

function isOneByte(status: number): boolean {
  return status >= 0xc0 && status < 0xe0;
}

const anyFile: fc.Arbitrary<SmfFile> = fc.record({
  format: fc.constantFrom(0 as const, 1 as const, 2 as const),
  division: fc.oneof(
    fc.integer({ min: 1, max: 0x7fff }).map((ticksPerQuarter) => ({
      kind: 'metrical' as const,
      ticksPerQuarter,
    })),
    fc.record({
      kind: fc.constant('frames' as const),
      framesPerSecond: fc.constantFrom(24, 25, 29.97, 30),
      ticksPerFrame: fc.integer({ min: 1, max: 255 }),
    }),
  ),
  tracks: fc.array(anyTrack, { minLength: 1, maxLength: 4 }),
});

describe('there and back', () => {
  test('a file written and read is the same file, with and without running status', () => {
    fc.assert(
      fc.property(anyFile, fc.boolean(), (file, runningStatus) => {
        expect(decodeSmf(encodeSmf(file, runningStatus))).toEqual({
          ok: true,
          value: { ...file, clampedValues: 0 },
        });
      }),
    );
  });

  test('a take written and read is the same take, to a twentieth of a millisecond', () => {
    fc.assert(
      fc.property(anyTake, fc.integer({ min: 400, max: 1200 }), (take, msPerQuarter) => {
        fc.pre(take.events.some(({ kind }) => kind === 'noteOn'));
        const file = smfFromTake({
          take,
          tempo: [{ atMs: 0, atQuarter: 0, msPerQuarter }],
          meter: { count: 12, unit: 8 },
          keyFifths: 3,
          minor: false,
          name: 'Ferry Bell',
          texts: [],
        });
        const decoded = decodeSmf(encodeSmf(file));
        if (!decoded.ok) throw new Error('we wrote it');
        const read = takeFromSmf(decoded.value, null);
        if (!read.ok) throw new Error('it has notes');
        const found = read.value.take.events;
        expect(found.map(({ kind }) => kind)).toEqual(take.events.map(({ kind }) => kind));
        found.forEach((event, index) => {
          expect(Math.abs(event.atMs - (take.events[index]?.atMs ?? 0))).toBeLessThan(0.05);
        });
        expect(read.value.tempo.points[0]).toMatchObject({ msPerQuarter });
      }),
    );
  });
});

test('a silence longer than a number can hold is bridged, and the note after it keeps its time', () => {
  const note = { kind: 'channel', tick: 0x2000_0000, status: 0x90, data1: 60, data2: 80 } as const;
  const division = { kind: 'metrical', ticksPerQuarter: 96 } as const;
  const decoded = decodeSmf(encodeSmf({ format: 0, division, tracks: [[note, note]] }));
  if (!decoded.ok) throw new Error('we wrote it');
  const notes = decoded.value.tracks[0]?.filter(({ kind }) => kind === 'channel');
  expect(notes).toEqual([note, note]);
});

describe('hostile input', () => {
  test('any bytes give a file or a sentence, never an exception', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
        const decoded = decodeSmf(bytes);
        if (!decoded.ok) expect(describeSmfProblem(first(decoded.problems))).toMatch(/byte \d+/);
      }),
      { numRuns: 2000 },
    );
  });

  test('a good file with bytes changed gives a file or a sentence, and so does its take', () => {
    fc.assert(
      fc.property(
        anyFile,
        fc.array(fc.tuple(fc.nat(), fc.integer({ min: 0, max: 255 })), { maxLength: 8 }),
        fc.nat(),
        (file, changes, cut) => {
          const bytes = encodeSmf(file);
          for (const [at, value] of changes) bytes[at % bytes.length] = value;
          const decoded = decodeSmf(bytes.subarray(0, bytes.length - (cut % 20)));
          if (decoded.ok) takeFromSmf(decoded.value, 0);
        },
      ),
      { numRuns: 1000 },
    );
  });

  test.each([
    ['an empty file', new Uint8Array(), 'empty', 0],
    ['a text file', Uint8Array.from(Buffer.from('title: Lantern Walk')), 'otherFile', 0],
    ['only a header', hex('4D546864 00000006 0000 0001 0060'), 'noTracks', 14],
    ['half a header', hex('4D546864 00000006 00'), 'truncated', 9],
    ['a header of 4 GB', hex('4D546864 FFFFFFFF 0000 0001 0060 00000000'), 'header', 4],
    ['a header of four bytes', hex('4D546864 00000004 0000 0001 0060 00000000'), 'header', 4],
    ['format 3', fileOf('00904060', '0060', '0003'), 'format', 8],
    ['a division of zero', fileOf('00904060', '0000'), 'division', 12],
    ['frames of no ticks', fileOf('00904060', 'E700'), 'division', 12],
    [
      'a track of 4 GB',
      hex('4D546864 00000006 0000 0001 0060 4D54726B FFFFFFFF 00904060'),
      'truncated',
      18,
    ],
    ['a number of five bytes', fileOf('8181818100 904060'), 'number', 22],
    ['a meta event of 256 MB', fileOf('00FF01FFFFFF7F'), 'truncated', 25],
    ['data without a status', fileOf('00 4060'), 'runningStatus', 23],
    ['a status that is not allowed in files', fileOf('00F8'), 'status', 23],
    ['a note number too large', fileOf('0090 FF 40'), 'noteNumber', 24],
  ])('%s', (_name, bytes, code, byteOffset) => {
    expect(decodeSmf(bytes)).toMatchObject({ ok: false, problems: [{ code, byteOffset }] });
  });

  test('a file over the limit is refused unread', () => {
    expect(decodeSmf(new Uint8Array(LARGEST_SMF_BYTES + 1))).toMatchObject({
      problems: [{ code: 'tooLarge' }],
    });
  });

  test('a track that breaks off in the middle of an event says where', () => {
    const bytes = hex('4D546864 00000006 0000 0001 0060 4D54726B 00000003 009040');
    expect(decodeSmf(bytes)).toMatchObject({ problems: [{ code: 'truncated', byteOffset: 24 }] });
  });
});

/** A file of format 2 with two tracks of a note each. */
const TWO_PATTERNS = `4D546864 00000006 0002 0002 0060 ${'4D54726B 00000004 00904060 '.repeat(2)}`;

describe('a take', () => {
  test('is read from a file of format 2 that holds one sequence', () => {
    const one = decodeSmf(fileOf('00904060', '0060', '0002'));
    if (!one.ok) throw new Error('it can be decoded');
    const read = takeFromSmf(one.value, 0);
    expect(read.ok && read.value.take.events).toHaveLength(1);
  });

  test('is read with values above 127 as 127, and how many is told', () => {
    const decoded = decodeSmf(fileOf('009040FF 00B040FF 00B0C000 0090427F'));
    if (!decoded.ok) throw new Error('it can be decoded');
    const read = takeFromSmf(decoded.value, 0);
    if (!read.ok) throw new Error('it holds two notes');
    expect(read.value.notices).toEqual([{ code: 'valuesClamped', values: 3 }]);
    expect(read.value.take.events).toMatchObject([
      { kind: 'noteOn', midi: 64, velocity: 127 },
      { kind: 'pedal', down: true },
      { kind: 'noteOn', midi: 66, velocity: 127 },
    ]);
  });

  test('needs one performance with notes', () => {
    const noNotes = decodeSmf(fileOf('00C005'));
    const patterns = decodeSmf(hex(TWO_PATTERNS));
    if (!noNotes.ok || !patterns.ok) throw new Error('both can be decoded');
    expect(takeFromSmf(noNotes.value, 0)).toMatchObject({ problems: [{ code: 'noNotes' }] });
    expect(takeFromSmf(patterns.value, 0)).toMatchObject({
      problems: [{ code: 'independentTracks' }],
    });
  });

  test('leaves percussion out when other channels play, and keeps it when it is all there is', () => {
    const both = decodeSmf(fileOf('00904060 00992560'));
    const percussion = decodeSmf(fileOf('00992560'));
    if (!both.ok || !percussion.ok) throw new Error('both can be decoded');
    expect(takeFromSmf(both.value, 0)).toMatchObject({
      value: {
        take: { events: [{ midi: 64 }] },
        notices: [{ code: 'percussionLeftOut', notes: 1 }],
      },
    });
    expect(takeFromSmf(percussion.value, 0)).toMatchObject({
      value: { take: { events: [{ midi: 37 }] }, notices: [] },
    });
  });
});

function first<Value>(values: readonly Value[]): Value {
  const [value] = values;
  if (value === undefined) throw new Error('there is no problem where one was expected');
  return value;
}
