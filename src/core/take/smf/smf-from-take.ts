/** From a take to a MIDI file: format 0, one track, the tempo map and the first downbeat marked. */

import type { TakeEvent, TakeEvents, TempoPoint } from '../model.ts';
import { META, type SmfEvent, type SmfFile } from './model.ts';
import { channelOfSource } from './remarks.ts';
import { DOWNBEAT_MARKER } from './take-from-smf.ts';

/**
 * Ticks per quarter of the files we write. Fine enough that a note read back lies within 0.04 ms of where it was
 * played at 50 beats per minute or faster, so that a verdict at the edge of its tolerance seldom turns.
 */
export const TICKS_PER_QUARTER = 15_360;

export interface TakeForFile {
  readonly take: TakeEvents;
  /** Quarters from the first downbeat; the first point also holds before itself. */
  readonly tempo: readonly TempoPoint[];
  readonly meter: { readonly count: number; readonly unit: number };
  /** Sharps (positive) or flats of the key signature. */
  readonly keyFifths: number;
  readonly minor: boolean;
  readonly name: string;
  /** Further remarks, each a text event. */
  readonly texts: readonly string[];
}

/**
 * Makes a file of a take. Notes before the first downbeat are kept: the file then starts as many whole bars earlier,
 * and a marker stands at the downbeat, which `takeFromSmf` finds. Times are rounded to ticks.
 */
export function smfFromTake(input: TakeForFile): SmfFile {
  const { take, meter } = input;
  const first = input.tempo[0] ?? { atMs: 0, atQuarter: 0, msPerQuarter: 500 };
  const barQuarters = (meter.count * 4) / meter.unit;
  const earliestMs = take.events.reduce((least, { atMs }) => Math.min(least, atMs), 0);
  const leadQuarters = Math.ceil(-earliestMs / (barQuarters * first.msPerQuarter)) * barQuarters;
  const tickOf = (atMs: number): number =>
    Math.max(0, Math.round((leadQuarters + quarterAt(input.tempo, atMs)) * TICKS_PER_QUARTER));

  const notes = take.events.map((event) => channelEvent(event, tickOf(event.atMs)));
  const tempos = input.tempo.map((point, index): SmfEvent => {
    const tick = index === 0 ? 0 : tickOf(point.atMs);
    return {
      kind: 'meta',
      tick,
      type: META.tempo,
      bytes: uint24(Math.round(point.msPerQuarter * 1000)),
    };
  });
  const downbeat = meta(META.marker, textBytes(DOWNBEAT_MARKER), leadQuarters * TICKS_PER_QUARTER);
  const body = [...tempos, downbeat, ...notes].sort((a, b) => a.tick - b.tick);
  const end = Math.max(tickOf(take.endMs), body.at(-1)?.tick ?? 0);
  const track = [
    meta(META.trackName, textBytes(input.name)),
    ...input.texts.map((text) => meta(META.text, textBytes(text))),
    meta(
      META.meter,
      Uint8Array.of(meter.count, Math.log2(meter.unit), meter.unit === 8 ? 36 : 24, 8),
    ),
    meta(META.key, Uint8Array.of(input.keyFifths & 0xff, input.minor ? 1 : 0)),
    ...body,
    meta(META.endOfTrack, new Uint8Array(), end),
  ];
  const division = { kind: 'metrical', ticksPerQuarter: TICKS_PER_QUARTER } as const;
  return { format: 0, division, tracks: [track] };
}

function channelEvent(event: TakeEvent, tick: number): SmfEvent {
  const channel = channelOfSource(event.source ?? 0);
  switch (event.kind) {
    case 'noteOn':
      return {
        kind: 'channel',
        tick,
        status: 0x90 | channel,
        data1: event.midi,
        data2: event.velocity,
      };
    case 'noteOff':
      return { kind: 'channel', tick, status: 0x90 | channel, data1: event.midi, data2: 0 };
    case 'pedal':
      return {
        kind: 'channel',
        tick,
        status: 0xb0 | channel,
        data1: 64,
        data2: event.down ? 127 : 0,
      };
    case 'allOff':
      return { kind: 'channel', tick, status: 0xb0 | channel, data1: 123, data2: 0 };
  }
}

function quarterAt(points: readonly TempoPoint[], atMs: number): number {
  const point = points.findLast((candidate) => candidate.atMs <= atMs) ?? points[0];
  return point === undefined ? 0 : point.atQuarter + (atMs - point.atMs) / point.msPerQuarter;
}

function meta(type: number, bytes: Uint8Array, tick = 0): SmfEvent {
  return { kind: 'meta', tick, type, bytes };
}

function uint24(value: number): Uint8Array {
  return Uint8Array.of((value >> 16) & 0xff, (value >> 8) & 0xff, value & 0xff);
}

/** Latin-1, as `takeFromSmf` reads it; other letters become a question mark. */
function textBytes(text: string): Uint8Array {
  return Uint8Array.from(text, (letter) => {
    const code = letter.codePointAt(0) ?? 63;
    return code < 256 ? code : 63;
  });
}
