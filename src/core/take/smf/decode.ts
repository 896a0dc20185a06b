/** Bytes to a Standard MIDI File. Whatever the bytes, the answer is the file or one problem; nothing throws. */

import { failure, type Outcome, success } from '../../problem.ts';
import { type ByteReader, createByteReader } from './byte-reader.ts';
import {
  type DecodedSmf,
  LARGEST_SMF_BYTES,
  META,
  type SmfDivision,
  type SmfEvent,
  type SmfProblem,
  type SmfProblemCode,
  type SmfTrack,
} from './model.ts';
import { whatFileIsThis } from './other-files.ts';
import { remedyFor } from './sentences.ts';

/** Source: MIDI 1.0 Detailed Specification 4.2.1, "Data Bytes": their top bit is clear. */
const LARGEST_VALUE = 0x7f;

/**
 * Reads a file of format 0, 1 or 2, also inside a RIFF wrapper. Unknown chunks and unknown meta events are skipped or
 * kept as they are, a longer header is honoured, a missing end of track is forgiven; a file that breaks off is not,
 * since nobody can tell what is missing. A value above 127 is read as 127 and counted, unless it is a note number. Memory is bounded by the size of the input.
 */
export function decodeSmf(bytes: Uint8Array): Outcome<DecodedSmf, SmfProblem> {
  if (bytes.length === 0) return problem('empty', 0, 'nothing');
  if (bytes.length > LARGEST_SMF_BYTES) {
    return problem('tooLarge', 0, `${bytes.length} bytes`);
  }
  const reader = createByteReader(bytes);
  const start = findHeader(reader);
  if (start === null) return problem('otherFile', 0, whatFileIsThis(bytes));
  reader.seek(start + 4);
  if (reader.left() < 10) return problem('truncated', bytes.length, 'the end of the file');
  const headerLength = reader.uint32();
  if (headerLength < 6 || headerLength > reader.left()) {
    return problem('header', start + 4, `a header of ${headerLength} bytes`);
  }
  const headerEnd = reader.at() + headerLength;
  const format = reader.uint16();
  if (format !== 0 && format !== 1 && format !== 2) {
    return problem('format', start + 8, `format ${format}`);
  }
  reader.uint16();
  const division = readDivision(reader.uint16());
  if (division === null) return problem('division', start + 12, 'a division of zero');
  reader.seek(headerEnd);
  const tracks = readTracks(reader);
  if (!tracks.ok) return tracks;
  if (tracks.value.tracks.length === 0) return problem('noTracks', headerEnd, 'no track');
  return success({ format, division, ...tracks.value });
}

function problem(
  code: SmfProblemCode,
  byteOffset: number,
  read: string,
): { readonly ok: false; readonly problems: readonly SmfProblem[] } {
  return failure({ code, byteOffset, read, remedy: remedyFor(code) });
}

/** Where `MThd` stands: at the start, or in the data chunk of a RIFF RMID file. */
function findHeader(reader: ByteReader): number | null {
  if (reader.word(0) === 'MThd') return 0;
  if (reader.word(0) !== 'RIFF' || reader.word(8) !== 'RMID') return null;
  return reader.word(12) === 'data' && reader.word(20) === 'MThd' ? 20 : null;
}

/** Source: SMF, "Header Chunks". Null for a count of zero, which no time can be measured in. */
function readDivision(word: number): SmfDivision | null {
  if (word < 0x8000) return word === 0 ? null : { kind: 'metrical', ticksPerQuarter: word };
  const frames = 256 - (word >> 8);
  const ticksPerFrame = word & 0xff;
  if (frames === 0 || ticksPerFrame === 0) return null;
  // −29 stands for 30 drop frame, which runs at 29.97 frames per second.
  return { kind: 'frames', framesPerSecond: frames === 29 ? 29.97 : frames, ticksPerFrame };
}

function readTracks(
  reader: ByteReader,
): Outcome<Pick<DecodedSmf, 'tracks' | 'clampedValues'>, SmfProblem> {
  const tracks: SmfTrack[] = [];
  let clampedValues = 0;
  while (reader.left() >= 8) {
    const chunkAt = reader.at();
    const name = reader.word(chunkAt);
    reader.seek(chunkAt + 4);
    const length = reader.uint32();
    const end = reader.at() + length;
    if (name === 'MTrk') {
      if (length > reader.left()) {
        return problem(
          'truncated',
          chunkAt + 4,
          `a track that claims ${length} bytes where ${reader.left()} are left`,
        );
      }
      const track = readTrack(reader, end);
      if (!track.ok) return track;
      tracks.push(track.value.events);
      clampedValues += track.value.clampedValues;
    } else if (length > reader.left()) break;
    reader.seek(end);
  }
  return success({ tracks, clampedValues });
}

function readTrack(
  reader: ByteReader,
  end: number,
): Outcome<{ readonly events: SmfTrack; readonly clampedValues: number }, SmfProblem> {
  const events: SmfEvent[] = [];
  let clampedValues = 0;
  let tick = 0;
  let running = 0;
  while (reader.at() < end) {
    const at = reader.at();
    const delta = reader.variableLength(end);
    if (delta < 0) return problem('number', at, 'a number that does not end within four bytes');
    tick += delta;
    const statusAt = reader.at();
    if (statusAt >= end) return broken(statusAt);
    let status = reader.peek();
    if (status >= 0x80) reader.byte();
    else if (running === 0) {
      return problem('runningStatus', statusAt, `data byte ${status} without a status before it`);
    } else status = running;

    if (status < 0xf0) {
      running = status;
      const oneByte = status >= 0xc0 && status < 0xe0;
      if (reader.at() + (oneByte ? 1 : 2) > end) return broken(reader.at());
      const data1 = reader.byte();
      const data2 = oneByte ? 0 : reader.byte();
      // Programs are known to write a velocity or a controller too large; which key was meant nobody can guess.
      if (data1 > LARGEST_VALUE && status < 0xb0) {
        const noteAt = reader.at() - 2;
        return problem('noteNumber', noteAt, `${data1} where a note number (0–127) belongs`);
      }
      const isController = status >> 4 === 0xb;
      clampedValues += Number(data1 > LARGEST_VALUE) + Number(data2 > LARGEST_VALUE);
      // As number 127 a controller that nobody knows would end all notes.
      if (isController && data1 > LARGEST_VALUE) continue;
      events.push({
        kind: 'channel',
        tick,
        status,
        data1: Math.min(data1, LARGEST_VALUE),
        data2: Math.min(data2, LARGEST_VALUE),
      });
      continue;
    }
    running = 0;
    if (status !== 0xff && status !== 0xf0 && status !== 0xf7) {
      return problem('status', statusAt, `status byte ${status.toString(16).toUpperCase()}`);
    }
    if (status === 0xff && reader.at() >= end) return broken(reader.at());
    const type = status === 0xff ? reader.byte() : 0;
    const lengthAt = reader.at();
    const length = reader.variableLength(end);
    if (length < 0) return problem('number', lengthAt, 'a length that does not end');
    if (reader.at() + length > end) {
      return problem('truncated', lengthAt, `an event that claims ${length} bytes`);
    }
    const bytes = reader.slice(length);
    if (status !== 0xff) events.push({ kind: 'sysex', tick, status, bytes });
    else {
      events.push({ kind: 'meta', tick, type, bytes });
      if (type === META.endOfTrack) break;
    }
  }
  return success({ events, clampedValues });
}

function broken(byteOffset: number): ReturnType<typeof problem> {
  return problem('truncated', byteOffset, 'the end of the track in the middle of an event');
}
