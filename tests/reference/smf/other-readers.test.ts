/**
 * Files we write, read by two parsers that know nothing of us or of each other: the npm packages midi-file
 * 1.2.4 and jzz-midi-smf 1.9.9. And files `midi-file` writes, read by us.
 */

import fc from 'fast-check';
import JZZ from 'jzz';
import addSmf, { type SmfReader } from 'jzz-midi-smf';
import { type MidiData, parseMidi, writeMidi } from 'midi-file';
import { expect, test } from 'vitest';
import {
  decodeSmf,
  encodeSmf,
  smfFromTake,
  takeFromSmf,
} from '../../../src/core/take/smf/index.ts';
import { anyTake } from '../../helpers/arbitrary-take.ts';

addSmf(JZZ);
const { SMF } = JZZ.MIDI as unknown as { SMF: SmfReader };

type Note = readonly [tick: number, midi: number, velocity: number];

function notesByMidiFile(bytes: Uint8Array): readonly Note[] {
  let tick = 0;
  return (parseMidi(bytes).tracks[0] ?? []).flatMap((event): Note[] => {
    tick += event.deltaTime;
    return event.type === 'noteOn' ? [[tick, event.noteNumber, event.velocity]] : [];
  });
}

function notesByJzz(bytes: Uint8Array): readonly Note[] {
  const smf = new SMF(Buffer.from(bytes).toString('latin1'));
  return (smf[0] ?? []).flatMap((event): Note[] => {
    const [status = 0, midi = 0, velocity = 0] = event;
    return status >> 4 === 9 && velocity > 0 ? [[event.tt, midi, velocity]] : [];
  });
}

test('two other parsers find the notes we wrote, tick by tick', () => {
  fc.assert(
    fc.property(anyTake, (take) => {
      const file = smfFromTake({
        take,
        tempo: [{ atMs: 0, atQuarter: 0, msPerQuarter: 1000 }],
        meter: { count: 4, unit: 4 },
        keyFifths: -2,
        minor: true,
        name: 'Tide Table',
        texts: ['invented data'],
      });
      const written = (file.tracks[0] ?? []).flatMap((event): Note[] =>
        event.kind === 'channel' && event.status === 0x90 && event.data2 > 0
          ? [[event.tick, event.data1, event.data2]]
          : [],
      );
      const bytes = encodeSmf(file);
      expect(notesByMidiFile(bytes)).toEqual(written);
      expect(notesByJzz(bytes)).toEqual(written);
    }),
    { numRuns: 60 },
  );
});

test('we find the notes another program wrote, in milliseconds', () => {
  const anyNotes = fc.array(
    fc.record({
      gap: fc.integer({ min: 0, max: 900 }),
      noteNumber: fc.integer({ min: 0, max: 127 }),
      velocity: fc.integer({ min: 1, max: 127 }),
      track: fc.integer({ min: 1, max: 2 }),
    }),
    { minLength: 1, maxLength: 40 },
  );
  fc.assert(
    fc.property(anyNotes, fc.boolean(), (notes, running) => {
      const tracks: MidiData['tracks'] = [[], [], []];
      const ticks = [0, 0, 0];
      const expected: [number, number, number][] = [];
      tracks[0]?.push({ deltaTime: 0, meta: true, type: 'setTempo', microsecondsPerBeat: 750_000 });
      for (const { gap, noteNumber, velocity, track } of notes) {
        tracks[track]?.push({
          deltaTime: gap,
          type: 'noteOn',
          channel: track,
          noteNumber,
          velocity,
        });
        ticks[track] = (ticks[track] ?? 0) + gap;
        expected.push([((ticks[track] ?? 0) * 750) / 480, noteNumber, velocity]);
      }
      for (const track of tracks) track.push({ deltaTime: 0, meta: true, type: 'endOfTrack' });
      const header = { format: 1 as const, numTracks: 3, ticksPerBeat: 480 };
      const file = decodeSmf(Uint8Array.from(writeMidi({ header, tracks }, { running })));
      if (!file.ok) throw new Error(JSON.stringify(file.problems));
      const read = takeFromSmf(file.value, 0);
      if (!read.ok) throw new Error(JSON.stringify(read.problems));
      const found = read.value.take.events.flatMap((event) =>
        event.kind === 'noteOn' ? [[event.atMs, event.midi, event.velocity]] : [],
      );
      expect(sorted(found)).toEqual(sorted(expected));
    }),
    { numRuns: 100 },
  );
});

function sorted(notes: readonly (readonly number[])[]): readonly (readonly number[])[] {
  return [...notes].sort(
    (a, b) => (a[0] ?? 0) - (b[0] ?? 0) || (a[1] ?? 0) - (b[1] ?? 0) || (a[2] ?? 0) - (b[2] ?? 0),
  );
}
