/** A Standard MIDI File to bytes: the inverse of `decodeSmf`. */

import { META, type SmfDivision, type SmfEvent, type SmfFile } from './model.ts';

/** The largest number a variable-length quantity holds. Source: SMF, "Conventions". */
export const LARGEST_VLQ = 0x0fffffff;

/** A number from 0 to `LARGEST_VLQ` as a variable-length quantity of one to four bytes. */
export function encodeVlq(value: number): readonly number[] {
  const bytes = [value & 0x7f];
  for (let rest = value >>> 7; rest > 0; rest >>>= 7) bytes.unshift((rest & 0x7f) | 0x80);
  return bytes;
}

/**
 * Writes a file. Running status is used for channel messages unless told not to; a track without an end of track gets
 * one. A silence longer than a number can hold is bridged by empty text events. Ticks must ascend within each track.
 */
export function encodeSmf(file: SmfFile, runningStatus = true): Uint8Array {
  const chunks = file.tracks.map((track) => trackBytes(track, runningStatus));
  const header = [...letters('MThd'), ...uint32(6), 0, file.format, ...uint16(file.tracks.length)];
  const bytes = [...header, ...divisionBytes(file.division)];
  const size = chunks.reduce((sum, chunk) => sum + 8 + chunk.length, bytes.length);
  const out = new Uint8Array(size);
  out.set(bytes);
  let at = bytes.length;
  for (const chunk of chunks) {
    out.set([...letters('MTrk'), ...uint32(chunk.length)], at);
    out.set(chunk, at + 8);
    at += 8 + chunk.length;
  }
  return out;
}

function trackBytes(track: readonly SmfEvent[], runningStatus: boolean): readonly number[] {
  const out: number[] = [];
  let tick = 0;
  let running = 0;
  for (const event of track) {
    for (; event.tick - tick > LARGEST_VLQ; tick += LARGEST_VLQ) {
      out.push(...encodeVlq(LARGEST_VLQ), 0xff, META.text, 0);
      running = 0;
    }
    out.push(...encodeVlq(event.tick - tick));
    tick = event.tick;
    if (event.kind === 'channel') {
      if (!runningStatus || event.status !== running) out.push(event.status);
      running = event.status;
      out.push(event.data1);
      if (event.status < 0xc0 || event.status >= 0xe0) out.push(event.data2);
      continue;
    }
    running = 0;
    if (event.kind === 'meta') out.push(0xff, event.type);
    else out.push(event.status);
    out.push(...encodeVlq(event.bytes.length));
    for (const byte of event.bytes) out.push(byte);
  }
  const last = track.at(-1);
  if (last?.kind !== 'meta' || last.type !== META.endOfTrack) out.push(0, 0xff, META.endOfTrack, 0);
  return out;
}

function divisionBytes(division: SmfDivision): readonly number[] {
  if (division.kind === 'metrical') return uint16(division.ticksPerQuarter);
  return [256 - Math.round(Math.floor(division.framesPerSecond)), division.ticksPerFrame];
}

function letters(word: string): readonly number[] {
  return [...word].map((letter) => letter.charCodeAt(0));
}

function uint16(value: number): readonly number[] {
  return [(value >> 8) & 0xff, value & 0xff];
}

function uint32(value: number): readonly number[] {
  return [(value >>> 24) & 0xff, (value >>> 16) & 0xff, ...uint16(value)];
}
