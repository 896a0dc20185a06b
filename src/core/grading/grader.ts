/**
 * The grader: one fold over what happens at the keyboard. A take played now and a take read from a file go
 * through this same code; cutting the events anywhere leaves the report as it is.
 */

import type { Form } from '../chart/model.ts';
import { createBeatClock } from '../grid/beat-clock.ts';
import { createKeyHold } from '../take/durations.ts';
import type { TakeEvent, TakeEvents, TakeSource } from '../take/model.ts';
import { gradedSources, sourceOf } from '../take/sources.ts';
import { createStrikeCollector, type Onset, type Strike, strikeOf } from '../take/strikes.ts';
import { type BoundaryArrival, createArrivalReader } from './arrival.ts';
import { buildReport, changeRecord, slotRecord } from './build-report.ts';
import { layCourse } from './course.ts';
import { createFreeLine } from './free-line.ts';
import { type HeardNote, hearNote } from './heard.ts';
import { createJudge } from './judge.ts';
import { appendEntry, createLedger } from './ledger.ts';
import type { Report, ReportChange, ReportSlot } from './report.ts';
import { completeSettings, type GradeSettings } from './settings.ts';
import { createSlotLine } from './slot-line.ts';

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
  hear(event: TakeEvent & { readonly kind: 'noteOn' }, before: HeardNote | null): HeardNote | null;
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
  const sources = gradedSources(takeSources, settings);
  const course = layCourse(form);
  const clock = createBeatClock(form, complete.tempo);
  const ledger = createLedger();
  const hold = createKeyHold();
  const leftHand: Onset[] = [];

  const createLine = complete.level === 'free' ? createFreeLine : createSlotLine;
  const line = createLine(course, clock, complete, onEntry);
  let nowMs = Number.NEGATIVE_INFINITY;
  const durationMs = (noteId: number): number => hold.durationMs(noteId, nowMs);
  const graded = { course, ledger, places: line };
  const judge = createJudge(graded, complete, (index) => {
    listener?.settled(slotRecord(graded, index, durationMs));
  });
  const arrivals = createArrivalReader(graded, (arrival: BoundaryArrival) => {
    listener?.changed(changeRecord(course, arrival));
  });
  const strikes = createStrikeCollector((strike) => line.add(strike));

  function onEntry(
    index: number,
    strike: Strike | null,
    spares: readonly Strike[],
    doubled: readonly Strike[],
  ): void {
    appendEntry(ledger, line.ordinal(index), line.nominalMs(index), strike, spares, doubled);
    arrivals.read(index);
    judge.proceed();
  }

  function noteOn(event: TakeEvent & { readonly kind: 'noteOn' }): void {
    const { midi, velocity, atMs } = event;
    const { latencyMs, splitMidi } = sourceOf(event, sources);
    const key = strikeOf(midi, velocity, atMs - latencyMs, hold.down(midi, atMs));
    if (splitMidi !== null && midi < splitMidi) leftHand.push(key);
    else strikes.add(key);
  }

  return {
    take(event) {
      nowMs = event.atMs;
      if (event.kind === 'noteOn' && event.velocity > 0) {
        noteOn(event);
      } else if (event.kind === 'noteOn' || event.kind === 'noteOff') {
        hold.up(event.midi, event.atMs);
      } else if (event.kind === 'allOff') hold.allUp(event.atMs);
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
        breaks: [],
        arrivals: [...arrivals.settled, ...asList(arrivals.pending())],
        leftHand,
        unplayed: line.unplayedAfter(ledger.lastFilled < 0 ? null : ledger.lastFilled),
      });
    },
  };
}

function asList<Value>(value: Value | null): readonly Value[] {
  return value === null ? [] : [value];
}

/** Grades a whole take: the same grader, fed from start to end. */
export function gradeTake(form: Form, take: TakeEvents, settings: GradeSettings): Report {
  const grader = createGrader(form, settings, take.sources);
  for (const event of take.events) grader.take(event);
  return grader.end(take.endMs);
}
