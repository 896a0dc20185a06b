/**
 * The grader: one fold over what happens at the keyboard. A take played now and a take read from a file go
 * through this same code; cutting the events anywhere leaves the report as it is.
 */

import type { Form } from '../chart/model.ts';
import { createBeatClock } from '../grid/beat-clock.ts';
import { formOnGrid } from '../grid/form-on-grid.ts';
import { createKeyHold, type KeyHold } from '../take/durations.ts';
import {
  MOST_SOURCES,
  type TakeBreak,
  type TakeEvent,
  type TakeEvents,
  type TakeSource,
} from '../take/model.ts';
import { gradedSources, inCorrectedOrder, sourceOf } from '../take/sources.ts';
import { createStrikeCollector, type Onset, type Strike, strikeOf } from '../take/strikes.ts';
import { type BoundaryArrival, createArrivalReader } from './arrival.ts';
import { createBreakList } from './breaks.ts';
import { buildReport, changeRecord, slotRecord } from './build-report.ts';
import { layCourse } from './course.ts';
import { endFreeLine } from './free-end.ts';
import { createFreeLine } from './free-line.ts';
import { type HeardNote, hearNote } from './heard.ts';
import { createJudge } from './judge.ts';
import { appendEntry, createLedger } from './ledger.ts';
import type { Report, ReportChange, ReportSlot } from './report.ts';
import { completeSettings, type GradeSettings } from './settings.ts';
import { createSlotLine } from './slot-line.ts';

export type NoteOn = Extract<TakeEvent, { readonly kind: 'noteOn' }>;

/** What a grader tells while it goes; each slot and each change once, in order, when it is settled. */
export interface GraderListener {
  /** The note's duration is what is known so far. */
  settled(slot: ReportSlot): void;
  changed(change: ReportChange): void;
}

export interface Grader {
  /** Takes the next event; with its source's latency taken off, times must not go back. */
  take(event: TakeEvent): void;
  /** Every event before this time, latency taken off, has been taken. */
  advance(timeMs: number): void;
  /** What can be said at once of a key-down; null for the left hand and outside the line. */
  hear(event: NoteOn, before: HeardNote | null): HeardNote | null;
  /** Puts a list of sources in the place of the one before, which it begins with. */
  setSources(sources: readonly TakeSource[]): void;
  /** Tells of a break, before the time is told that reaches its beginning. */
  addBreak(pause: TakeBreak): void;
  /** Ends the take at a time of its clock and reports. Call once. */
  end(atMs: number): Report;
}

/**
 * Starts grading a form under settings. Without a listener nothing is computed for one.
 * Problems: none; the form must have at least one bar, as every parsed chart has.
 */
export function createGrader(
  form: Form,
  settings: GradeSettings,
  takeSources: readonly TakeSource[] = [],
  listener: GraderListener | null = null,
): Grader {
  const complete = completeSettings(settings);
  let sources = gradedSources(takeSources, settings);
  const recordedBreaks: TakeBreak[] = [];
  const breaks = createBreakList();
  const isFree = complete.level === 'free';
  const course = layCourse(isFree ? form : formOnGrid(form, complete.slotsPerBeat));
  const clock = createBeatClock(form, complete.tempo);
  const ledger = createLedger();
  /** A key of one keyboard is none of another's. */
  const holds: KeyHold[] = [];
  const leftHand: Onset[] = [];

  const line = isFree
    ? endFreeLine(createFreeLine(course, clock, complete, onEntry), form, clock, complete.choruses)
    : createSlotLine(course, clock, complete, onEntry);
  let nowMs = Number.NEGATIVE_INFINITY;
  const durationMs = (noteId: number): number => {
    const hold = holds[noteId % MOST_SOURCES];
    return hold?.durationMs(Math.floor(noteId / MOST_SOURCES), nowMs) ?? 0;
  };
  const graded = { course, ledger, places: line };
  const judge = createJudge(graded, complete, (index) => {
    listener?.settled(slotRecord(graded, index, durationMs));
  });
  const arrivals = createArrivalReader(graded, (arrival: BoundaryArrival) => {
    listener?.changed(changeRecord(course, arrival, Number.POSITIVE_INFINITY));
  });
  const strikes = createStrikeCollector((strike) => line.add(strike));

  function onEntry(
    index: number,
    strike: Strike | null,
    spares: readonly Strike[],
    doubled: readonly Strike[],
  ): void {
    const judged = breaks.isEmpty || !breaks.touches(line.cell(index));
    const nominalMs = line.nominalMs(index);
    appendEntry(ledger, line.ordinal(index), nominalMs, judged, strike, spares, doubled);
    arrivals.read(index);
    judge.proceed();
  }

  function holdOf({ source = 0 }: TakeEvent): KeyHold {
    const hold = holds[source] ?? createKeyHold();
    holds[source] = hold;
    return hold;
  }

  function noteOn(event: NoteOn): void {
    const { midi, velocity, atMs, source = 0 } = event;
    const { latencyMs, splitMidi } = sourceOf(event, sources);
    const noteId = holdOf(event).down(midi, atMs) * MOST_SOURCES + source;
    const key = strikeOf(midi, velocity, atMs - latencyMs, noteId, source);
    if (splitMidi !== null && midi < splitMidi) leftHand.push(key);
    else strikes.add(key);
  }

  return {
    take(event) {
      nowMs = Math.max(nowMs, event.atMs);
      if (event.kind === 'noteOn' && event.velocity > 0) {
        noteOn(event);
      } else if (event.kind === 'noteOn' || event.kind === 'noteOff') {
        holdOf(event).up(event.midi, event.atMs);
      } else if (event.kind === 'allOff') holdOf(event).allUp(event.atMs);
    },
    setSources(list) {
      sources = gradedSources(list, settings);
    },
    addBreak(pause) {
      recordedBreaks.push(pause);
      breaks.add(pause);
    },
    advance(timeMs) {
      strikes.advance(timeMs);
      line.advance(strikes.openSince(timeMs));
    },
    hear(event, before) {
      const { midi, atMs } = event;
      const { latencyMs, splitMidi } = sourceOf(event, sources);
      if (splitMidi !== null && midi < splitMidi) return null;
      const onsetMs = atMs - latencyMs;
      const place = line.preview(onsetMs);
      return place === null ? null : hearNote(course, complete, place, midi, onsetMs, before);
    },
    end(atMs) {
      nowMs = Math.max(nowMs, atMs);
      strikes.end();
      line.end();
      judge.end();
      return buildReport({
        line: graded,
        durationMs,
        clock,
        settings: complete,
        sources,
        breaks: recordedBreaks,
        isBroken: breaks.touches,
        closing: line.closing(),
        arrivals: [...arrivals.settled, ...arrivals.pending()],
        leftHand,
        unplayed: line.unplayedAfter(ledger.lastFilled < 0 ? null : ledger.lastFilled),
      });
    },
  };
}

/** Grades a whole take: the same grader, fed from start to end in the order of the corrected times. */
export function gradeTake(form: Form, take: TakeEvents, settings: GradeSettings): Report {
  const grader = createGrader(form, settings, take.sources);
  for (const pause of take.breaks) grader.addBreak(pause);
  const sources = gradedSources(take.sources, settings);
  for (const event of inCorrectedOrder(take.events, sources)) grader.take(event);
  return grader.end(take.endMs);
}
