/**
 * Reading and writing against the specification: MIDI Manufacturers Association, Standard MIDI Files 1.0 (RP-001, rev.
 * Feb 1996), here SMF; MIDI 1.0 Detailed Specification 4.2.1, here MIDI.
 */

import { describe, expect, test } from 'vitest';
import { decodeSmf, encodeSmf, encodeVlq, takeFromSmf } from '../../../src/core/take/smf/index.ts';
import { fileOf, hex } from '../../helpers/bytes.ts';

/** SMF, last section: the same music as format 0 and as format 1. */
const FORMAT_0 = hex(`4D546864 00000006 0000 0001 0060  4D54726B 0000003B
  00FF580404021808 00FF510307A120 00C005 00C12E 00C246 00923060 003C60 60914340 60904C20 8140823040 003C40
  00814340 00804C40 00FF2F00`);
const FORMAT_1 = hex(`4D546864 00000006 0001 0004 0060
  4D54726B 00000014 00FF580404021808 00FF510307A120 8300FF2F00
  4D54726B 00000010 00C005 8140904C20 81404C00 00FF2F00
  4D54726B 0000000F 00C12E 60914340 82204300 00FF2F00
  4D54726B 00000015 00C246 00923060 003C60 83003000 003C00 00FF2F00`);

function fileFrom(bytes: Uint8Array) {
  const file = decodeSmf(bytes);
  if (!file.ok) throw new Error(JSON.stringify(file.problems));
  return file.value;
}

function readFrom(bytes: Uint8Array, startMs: number | null = null) {
  const read = takeFromSmf(fileFrom(bytes), startMs);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
}

function notesOf(bytes: Uint8Array) {
  return readFrom(bytes)
    .take.events.map((event) =>
      event.kind === 'noteOn'
        ? [event.atMs, event.midi, event.velocity]
        : event.kind === 'noteOff'
          ? [event.atMs, event.midi, 0]
          : [],
    )
    .sort((a, b) => (a[0] ?? 0) - (b[0] ?? 0) || (a[1] ?? 0) - (b[1] ?? 0));
}

describe('variable-length quantities (SMF, Conventions)', () => {
  test.each([
    [0x00, '00'],
    [0x40, '40'],
    [0x7f, '7F'],
    [0x80, '8100'],
    [0x2000, 'C000'],
    [0x3fff, 'FF7F'],
    [0x4000, '818000'],
    [0x100000, 'C08000'],
    [0x1fffff, 'FFFF7F'],
    [0x200000, '81808000'],
    [0x8000000, 'C0808000'],
    [0xfffffff, 'FFFFFF7F'],
  ])('%i is written %s and read back', (value, bytes) => {
    expect(encodeVlq(value)).toEqual([...hex(bytes)]);
    const [event] = fileFrom(fileOf(`${bytes} C005`)).tracks[0] ?? [];
    expect(event?.tick).toBe(value);
  });
});

describe('the example files (SMF, last section)', () => {
  const notes = [
    [0, 48, 96],
    [0, 60, 96],
    [500, 67, 64],
    [1000, 76, 32],
    [2000, 48, 0],
    [2000, 60, 0],
    [2000, 67, 0],
    [2000, 76, 0],
  ];

  test.each([
    ['format 0', FORMAT_0],
    ['format 1', FORMAT_1],
  ])('%s holds the music it is said to hold', (_name, bytes) => {
    expect(notesOf(bytes)).toEqual(notes);
    expect(readFrom(bytes).meters).toEqual([{ tick: 0, count: 4, denominator: 4 }]);
    expect(readFrom(bytes).take.endMs).toBe(2000);
  });

  test.each([
    ['format 0', FORMAT_0],
    ['format 1', FORMAT_1],
  ])('%s is written back byte for byte', (_name, bytes) => {
    expect(encodeSmf(fileFrom(bytes))).toEqual(bytes);
  });
});

describe('time', () => {
  test('without a tempo a quarter lasts 500 ms (SMF, Formats 0, 1, and 2)', () => {
    expect(readFrom(fileOf('00904060 60804000')).take.endMs).toBe(500);
  });

  test('6144 ticks at 96 per quarter and 500000 µs are 32000 ms exactly (SMF, end note)', () => {
    expect(readFrom(fileOf('00904060 B000804000')).take.endMs).toBe(32_000);
  });

  test.each([
    // µs per quarter for a tempo, rounded to whole µs, and what they read back as.
    ['0F4240', 1000],
    ['0CB735', 833.333],
    ['0C0BE2', 789.474],
    ['0927C0', 600],
    ['07A120', 500],
    ['05B8D8', 375],
  ])('set tempo %s is %s ms per quarter', (tempo, msPerQuarter) => {
    const { tempo: map } = readFrom(fileOf(`00FF5103${tempo} 00904060 60804000`));
    expect(map.points).toEqual([{ atMs: 0, atQuarter: 0, msPerQuarter }]);
  });

  test('tempo changes add up, from any first downbeat', () => {
    // 96 ticks at 1000 ms, then 96 at 500 ms, then 250 ms per quarter.
    const bytes = fileOf('00FF51030F4240 00904060 60FF510307A120 60FF510303D090 60804000');
    expect(readFrom(bytes).take.endMs).toBe(1750);
    expect(readFrom(bytes, 1250).tempo.points).toEqual([
      { atMs: -1250, atQuarter: -1.5, msPerQuarter: 1000 },
      { atMs: -250, atQuarter: -0.5, msPerQuarter: 500 },
      { atMs: 250, atQuarter: 0.5, msPerQuarter: 250 },
    ]);
  });

  test.each([
    ['25 frames of 40 ticks are one tick a millisecond (SMF, Header)', 'E728', 96],
    ['30 frames of 80 ticks', 'E250', 96 / 2.4],
  ])('%s', (_name, division, endMs) => {
    const bytes = fileOf('00904060 60804000', division);
    expect(readFrom(bytes).take.endMs).toBeCloseTo(endMs, 9);
    expect(readFrom(bytes).notices).toContainEqual({ code: 'framesNoTempo' });
  });
});

describe('messages (MIDI p. 10, 12, 20–25)', () => {
  test('a note-on with velocity 0 is a note-off', () => {
    const { events } = readFrom(fileOf('00904060 60904000')).take;
    expect(events[1]).toEqual({ kind: 'noteOff', atMs: 500, midi: 64 });
  });

  test.each([
    ['3F', 1],
    ['40', 2],
  ])('a damper that was up is down from 64 on: %s, %i events', (value, count) => {
    const { events } = readFrom(fileOf(`00904060 00B040${value}`)).take;
    expect(events).toHaveLength(count);
    expect(events.slice(1)).toEqual([{ kind: 'pedal', atMs: 0, down: true }].slice(0, count - 1));
  });

  test.each([
    ['78', true],
    ['79', false],
    ['7A', false],
    ['7B', true],
    ['7F', true],
  ])('mode message %s turns notes off: %s', (number, turnsOff) => {
    const { events } = readFrom(fileOf(`00904060 00B0${number}00`)).take;
    expect(events.some(({ kind }) => kind === 'allOff')).toBe(turnsOff);
  });
});

describe('tolerance (SMF, Conventions and Chunks)', () => {
  test('running status holds across delta times and is cancelled by meta and sysex', () => {
    expect(notesOf(fileOf('00904060 60 4000'))).toHaveLength(2);
    expect(decodeSmf(fileOf('00904060 00FF0100 00 4000'))).toMatchObject({
      problems: [{ code: 'runningStatus', byteOffset: 31 }],
    });
    expect(decodeSmf(fileOf('00904060 00F00143 00 4000')).ok).toBe(false);
    expect(decodeSmf(fileOf('00 4060'))).toMatchObject({ problems: [{ code: 'runningStatus' }] });
  });

  test('sysex is kept as stored', () => {
    const [event] = fileFrom(fileOf('00F00543120007F7')).tracks[0] ?? [];
    expect(event).toEqual({ kind: 'sysex', tick: 0, status: 0xf0, bytes: hex('43120007F7') });
  });

  test('unknown chunks are skipped and a longer header is honoured', () => {
    const header = hex('4D546864 00000008 0000 0001 0060 FFFF');
    const unknown = hex('58595A57 00000003 010203');
    const rest = fileOf('00904060 60804000').subarray(14);
    expect(notesOf(Uint8Array.from([...header, ...unknown, ...rest]))).toHaveLength(2);
  });

  test('unknown meta events are kept and longer known ones read by their known part', () => {
    const bytes = fileOf('00FF7F020102 00FF51050F424000FF 00904060 60804000');
    expect(readFrom(bytes).tempo.points[0]?.msPerQuarter).toBe(1000);
    expect(encodeSmf(fileFrom(bytes))).toEqual(bytes);
  });

  test('a file in a RIFF wrapper is read', () => {
    const inner = fileOf('00904060 60804000');
    const riff = hex('52494646 00000000 524D4944 64617461 00000000');
    expect(notesOf(Uint8Array.from([...riff, ...inner]))).toHaveLength(2);
  });
});
