/** From a MIDI file to a take: all tracks on one clock in milliseconds, 0 = the first downbeat. */

import type { ReadingDecision } from '../../grading/readings/index.ts';
import { failure, type Outcome, success } from '../../problem.ts';
import { createKeyReader } from '../key-message.ts';
import { FURTHEST_MS, type TakeEvent, type TakeEvents, type TempoPoint } from '../model.ts';
import { metaEvents, type SmfMeta } from './meta-events.ts';
import { type DecodedSmf, META, type SmfFile, type SmfProblem } from './model.ts';
import { type FileSettings, PERCUSSION, readRemarks, sourceOfChannel } from './remarks.ts';
import { remedyFor } from './sentences.ts';
import { createTickClock, type TickClock } from './tick-clock.ts';

/** The text of the marker that stands at the first downbeat of the files this program writes. */
export const DOWNBEAT_MARKER = 'first downbeat';

/** Something a player should know about a file that was read all the same. */
export type SmfNotice =
  | { readonly code: 'percussionLeftOut'; readonly notes: number }
  | { readonly code: 'framesNoTempo' }
  /** Values above 127, read as 127. */
  | { readonly code: 'valuesClamped'; readonly values: number }
  /** Texts of this program that are not as it writes them. */
  | { readonly code: 'remarksUnread'; readonly texts: number };

export interface SmfMeter {
  /** Ticks from the start of the file. */
  readonly tick: number;
  readonly count: number;
  readonly denominator: number;
}

export interface ReadTake {
  readonly take: TakeEvents;
  /** The file's tempo map, quarters counted from the first downbeat. */
  readonly tempo: { readonly kind: 'mapped'; readonly points: readonly TempoPoint[] };
  /** Time of the first downbeat in the file, ms: as asked for, else where the file marks it, else 0. */
  readonly startMs: number;
  readonly meters: readonly SmfMeter[];
  readonly trackNames: readonly string[];
  /** What the file says it was graded by, and what was said to another reading of it; null where it says nothing. */
  readonly settings: FileSettings | null;
  readonly decision: ReadingDecision | null;
  readonly notices: readonly SmfNotice[];
}

/**
 * Reads the performance out of a file. `startMs` null takes the marked first downbeat, or the start of the file. Order
 * is by tick; at one tick by track, then as in the file. A tempo of zero is passed over.
 * Problems: a file of several independent patterns (format 2), a file without a note, one that lasts longer than a take may.
 */
export function takeFromSmf(
  file: DecodedSmf,
  startMs: number | null,
): Outcome<ReadTake, SmfProblem> {
  if (file.format === 2 && file.tracks.length > 1)
    return refuse('independentTracks', `${file.tracks.length} of them`);
  const metas = metaEvents(file);
  const clock = createTickClock(file.division, metas);
  const markedMs = markedDownbeatMs(metas, clock) ?? 0;
  const start = startMs ?? markedMs;
  const { sources, breaks, settings, decision, unread } = readRemarks(
    metas.flatMap(({ type, bytes }) =>
      type === META.text ? [readText(bytes, LONGEST_REMARK)] : [],
    ),
  );
  const keptChannels = hasHands(file) ? (channel: number) => channel !== PERCUSSION : () => true;
  const { events, leftOut } = readEvents(file, clock, start, keptChannels, sources.length);
  if (!events.some(({ kind }) => kind === 'noteOn')) {
    return refuse('noNotes', `${file.tracks.length} tracks without one`);
  }
  // A fold: a file may hold more tracks than a call takes arguments.
  const lastTick = file.tracks.reduce((last, track) => Math.max(last, track.at(-1)?.tick ?? 0), 0);
  const endMs = clock.timeMs(lastTick) - start;
  if (Math.abs(start) > FURTHEST_MS || endMs > FURTHEST_MS) {
    return refuse('tooLong', `${Math.round(clock.timeMs(lastTick) / 3_600_000)} hours`);
  }
  const notices: SmfNotice[] = [];
  if (leftOut > 0) notices.push({ code: 'percussionLeftOut', notes: leftOut });
  if (file.division.kind === 'frames') notices.push({ code: 'framesNoTempo' });
  if (file.clampedValues > 0) notices.push({ code: 'valuesClamped', values: file.clampedValues });
  if (unread > 0) notices.push({ code: 'remarksUnread', texts: unread });
  // Breaks are counted from the downbeat the file marks.
  const laterMs = start - markedMs;
  const moved = breaks
    .map(({ fromMs, toMs }) => ({ fromMs: fromMs - laterMs, toMs: toMs - laterMs }))
    .filter(({ fromMs, toMs }) => fromMs >= -FURTHEST_MS && toMs <= FURTHEST_MS);
  return success({
    take: { events, endMs, sources, breaks: moved },
    settings,
    decision,
    tempo: { kind: 'mapped', points: clock.pointsFrom(start) },
    startMs: start,
    meters: metas.flatMap(({ type, tick, bytes: [count, power] }) =>
      type !== META.meter || count === undefined || power === undefined
        ? []
        : [{ tick, count, denominator: 2 ** power }],
    ),
    trackNames: metas.flatMap(({ type, bytes }) =>
      type === META.trackName ? [readText(bytes)] : [],
    ),
    notices,
  });
}

function refuse(
  code: 'independentTracks' | 'noNotes' | 'tooLong',
  read: string,
): { readonly ok: false; readonly problems: readonly SmfProblem[] } {
  return failure({ code, byteOffset: 0, read, remedy: remedyFor(code) });
}

function isNoteOn(status: number, velocity: number): boolean {
  return status >> 4 === 9 && velocity > 0;
}

/** Whether any channel but the percussion channel has a note. */
function hasHands(file: SmfFile): boolean {
  return file.tracks.some((track) =>
    track.some(
      (event) =>
        event.kind === 'channel' &&
        isNoteOn(event.status, event.data2) &&
        (event.status & 15) !== PERCUSSION,
    ),
  );
}

function readEvents(
  file: SmfFile,
  clock: TickClock,
  startMs: number,
  isKept: (channel: number) => boolean,
  sourceCount: number,
): { readonly events: readonly TakeEvent[]; readonly leftOut: number } {
  const events: TakeEvent[] = [];
  let leftOut = 0;
  for (const track of file.tracks) {
    clock.rewind();
    const readKey = createKeyReader();
    for (const event of track) {
      if (event.kind !== 'channel') continue;
      const { status, data1, data2, tick } = event;
      if (!isKept(status & 15)) {
        if (isNoteOn(status, data2)) leftOut++;
        continue;
      }
      const read = readKey(status, data1, data2, clock.timeMs(tick) - startMs);
      const source = sourceOfChannel(status & 15);
      if (read !== null)
        events.push(source > 0 && source < sourceCount ? { ...read, source } : read);
    }
  }
  // A stable sort: tracks one after another, so events of one time stay in the order of the tracks.
  const tracksWithEvents = file.tracks.filter((track) =>
    track.some(({ kind }) => kind === 'channel'),
  );
  if (tracksWithEvents.length > 1) events.sort((a, b) => a.atMs - b.atMs);
  return { events, leftOut };
}

function markedDownbeatMs(metas: readonly SmfMeta[], clock: TickClock): number | null {
  const marker = metas.find(
    ({ type, bytes }) => type === META.marker && readText(bytes) === DOWNBEAT_MARKER,
  );
  return marker === undefined ? null : clock.timeMs(marker.tick);
}

const LONGEST_TEXT = 200;
/** Of those this program writes: a name of 200 letters, each written as six. */
const LONGEST_REMARK = 2000;

/** Text events are bytes without a stated encoding; read as Latin-1, cut to a sensible length. */
function readText(bytes: Uint8Array, longest = LONGEST_TEXT): string {
  return String.fromCharCode(...bytes.subarray(0, longest));
}
