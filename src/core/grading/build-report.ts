/** The report, built from what the grader has written down. Field for field the list in `grading.md`. */

import { formatMeter } from '../chart/index.ts';
import type { BeatClock } from '../grid/beat-clock.ts';
import { openingTempoBpm } from '../grid/beat-clock.ts';
import { defaultSlotsPerBeat } from '../grid/index.ts';
import type { TakeBreak, TakeSource } from '../take/model.ts';
import { UNKNOWN_SOURCE } from '../take/sources.ts';
import type { Onset } from '../take/strikes.ts';
import { FAULTS } from '../words.ts';
import { approachName, isChromatic, type PlayedNote } from './approach-name.ts';
import type { BoundaryArrival } from './arrival.ts';
import type { Span } from './breaks.ts';
import type { Course } from './course.ts';
import { chordAt, chordOf, type GradedLine } from './graded-line.ts';
import {
  FAULT_LISTS,
  isJudged,
  keyAt,
  type Ledger,
  MARK_BIT,
  MARK_LISTS,
  nominalAt,
  onsetAt,
} from './ledger.ts';
import { judgeLeftHand } from './left-hand.ts';
import type { ClosingStrike } from './line-reader.ts';
import { hasPc } from './palette-view.ts';
import {
  REPORT_SCHEMA,
  type Report,
  type ReportBar,
  type ReportChange,
  type ReportClosing,
  type ReportSlot,
  type ReportSummary,
} from './report.ts';
import type { CompleteSettings } from './settings.ts';
import { summariseLine, summariseRhythm, summariseTiming } from './summary.ts';

/** A settled note's name: an approach goes by where it leads, any other by its chord. */
function nameAt(line: GradedLine, index: number): string {
  const note = playedAt(line, index);
  if (note === null) return '';
  const isApproach = ((line.ledger.marks[index] ?? 0) & MARK_BIT.approach) !== 0;
  const next = isApproach && isChromatic(note) ? playedAt(line, index + 1) : null;
  return next === null
    ? note.chord.spell(note.midi)
    : approachName(note, next, playedAt(line, index + 2));
}

function playedAt(line: GradedLine, index: number): PlayedNote | null {
  const midi = keyAt(line.ledger, index);
  const chord = chordAt(line, index);
  return midi === null || chord === undefined ? null : { midi, chord };
}

/** One settled entry in the report's words; `durationMs` tells how long a note lasted, or has lasted so far. */
export function slotRecord(
  line: GradedLine,
  index: number,
  durationMs: (noteId: number) => number,
): ReportSlot {
  const { places, ledger } = line;
  const { bar, beat, sub } = places.placeOf(index);
  const chord = chordAt(line, index);
  const midi = keyAt(ledger, index);
  const nominalMs = nominalAt(ledger, index);
  const onsetMs = onsetAt(ledger, index);
  return {
    index,
    chorus: places.chorusOf(index),
    bar,
    beat,
    sub,
    chord: chord?.symbolText ?? '',
    palette: chord?.paletteText ?? '',
    nominalMs,
    note:
      midi === null
        ? null
        : {
            midi,
            name: nameAt(line, index),
            onsetMs,
            deviationMs: onsetMs - nominalMs,
            velocity: ledger.velocity[index] ?? 0,
            durationMs: durationMs(ledger.noteId[index] ?? -1),
          },
    judged: isJudged(ledger, index),
    faults: FAULT_LISTS[ledger.faults[index] ?? 0] ?? [],
    marks: MARK_LISTS[ledger.marks[index] ?? 0] ?? [],
  };
}

/**
 * One chord boundary in the report's words. Its place is the chord's own, also where no note fell on it. Entries after the
 * last one of the line decide nothing.
 */
export function changeRecord(
  course: Course,
  { ordinal, slot, unjudgedAt, ...read }: BoundaryArrival,
  last: number,
): ReportChange {
  const isUnjudged = unjudgedAt !== null && unjudgedAt <= last;
  const { arrival, bySlots, earlyBy, provenAt } = isUnjudged ? UNJUDGED : read;
  const from = chordOf(course, ordinal - 1);
  const to = chordOf(course, ordinal);
  return {
    chorus: Math.floor(ordinal / course.chords.length) + 1,
    bar: course.form.bars[to?.barIndex ?? 0]?.bar ?? 1,
    beat: to?.beat ?? 1,
    slot,
    fromChord: from?.symbolText ?? '',
    toChord: to?.symbolText ?? '',
    fromPalette: from?.paletteText ?? '',
    toPalette: to?.paletteText ?? '',
    arrival,
    bySlots,
    earlyBy,
    provenAt,
  };
}

const UNJUDGED = { arrival: 'unjudged', bySlots: null, earlyBy: 0, provenAt: null } as const;

/** Everything a report is made from. */
export interface ReportSource {
  readonly line: GradedLine;
  readonly clock: BeatClock;
  readonly settings: CompleteSettings;
  /** At least one. */
  readonly sources: readonly TakeSource[];
  readonly breaks: readonly TakeBreak[];
  readonly isBroken: (span: Span) => boolean;
  readonly closing: ClosingStrike | null;
  readonly arrivals: readonly BoundaryArrival[];
  readonly leftHand: readonly Onset[];
  readonly unplayed: number;
  durationMs(noteId: number): number;
}

/**
 * Builds the report. Grading ends with the last filled slot: empty slots after it, and changes that lie there,
 * are not in it.
 */
export function buildReport(source: ReportSource): Report {
  const { line, settings } = source;
  const { course, ledger } = line;
  const { form } = course;
  const last = ledger.lastFilled;
  const slots: ReportSlot[] = [];
  for (let index = 0; index <= last; index++) {
    slots.push(slotRecord(line, index, source.durationMs));
  }
  const changes = source.arrivals
    .filter((arrival) => arrival.slot <= last)
    .sort((a, b) => a.ordinal - b.ordinal)
    .map((arrival) => changeRecord(course, arrival, last));
  const bars = tallyBars(line, changes);
  const main = mainSource(ledger, source.sources);
  return {
    schema: REPORT_SCHEMA,
    chart: form.title,
    plan: form.plan,
    level: settings.level,
    tempo: openingTempoBpm(form, settings.tempo),
    meter: formatMeter(form.meter),
    slotsPerBeat: settings.slotsPerBeat ?? defaultSlotsPerBeat(form.meter),
    swing: settings.swing,
    latencyMs: main.latencyMs,
    splitMidi: main.splitMidi,
    sources: source.sources,
    breaks: source.breaks.toSorted((a, b) => a.fromMs - b.fromMs || a.toMs - b.toMs),
    slots,
    extras: ledger.extras
      .slice()
      .filter((extra) => extra.slot <= last)
      .sort((a, b) => a.onsetMs - b.onsetMs),
    changes,
    closing: source.closing && closingRecord(course, source.closing),
    readings: [],
    leftHand: leftHandOf(source, last),
    bars,
    summary: summarise(source, bars, changes),
  };
}

function closingRecord({ next }: Course, { strike, nominalMs }: ClosingStrike): ReportClosing {
  const { midi, onsetMs } = strike;
  return {
    ...{ midi, name: next?.spell(midi) ?? '', onsetMs, deviationMs: onsetMs - nominalMs },
    chord: next?.symbolText ?? '',
    chordTone: hasPc(next?.chordMask ?? 0, midi % 12),
  };
}

/** The source that most notes of the line came from, the first of them where as many came from another. */
function mainSource(ledger: Ledger, sources: readonly TakeSource[]): TakeSource {
  const notes = sources.map(() => 0);
  for (let index = 0; index <= ledger.lastFilled; index++) {
    const from = ledger.source[index] ?? 0;
    if (keyAt(ledger, index) !== null) notes[from] = (notes[from] ?? 0) + 1;
  }
  return sources[notes.indexOf(Math.max(...notes))] ?? sources[0] ?? UNKNOWN_SOURCE;
}

function leftHandOf(source: ReportSource, last: number): Report['leftHand'] {
  const { line, clock, settings } = source;
  const isSplit = source.sources.some(({ splitMidi }) => splitMidi !== null);
  if (!settings.leftHand || !isSplit || last < 0) return [];
  const endBeat = line.places.beatsIn(last);
  return judgeLeftHand(line.course, clock, source.leftHand, endBeat, source.isBroken);
}

type MutableBar = { -readonly [Key in keyof ReportBar]: ReportBar[Key] };

/** Bars are looked up by chorus and bar in one number; no form has this many bars. */
const BARS_PER_CHORUS_LIMIT = 1_000_000;

function barNumber(place: { readonly chorus: number; readonly bar: number }): number {
  return place.chorus * BARS_PER_CHORUS_LIMIT + place.bar;
}

function tallyBars(
  { places, ledger }: GradedLine,
  changes: readonly ReportChange[],
): readonly ReportBar[] {
  const lateChanges = new Map<number, number>();
  for (const change of changes) {
    if (change.arrival !== 'late') continue;
    const number = barNumber(change);
    lateChanges.set(number, (lateChanges.get(number) ?? 0) + 1);
  }
  const bars: MutableBar[] = [];
  let current: MutableBar | null = null;
  for (let index = 0; index <= ledger.lastFilled; index++) {
    const chorus = places.chorusOf(index);
    const { bar } = places.placeOf(index);
    if (current === null || current.bar !== bar || current.chorus !== chorus) {
      current = {
        chorus,
        bar,
        slots: 0,
        clean: 0,
        gap: 0,
        early: 0,
        late: 0,
        outside: 0,
        interval: 0,
        extra: 0,
        lateChanges: lateChanges.get(barNumber({ chorus, bar })) ?? 0,
        unjudged: 0,
      };
      bars.push(current);
    }
    if (!isJudged(ledger, index)) {
      current.unjudged++;
      continue;
    }
    current.slots++;
    const faults = ledger.faults[index] ?? 0;
    if (faults === 0) current.clean++;
    else for (const fault of FAULT_LISTS[faults] ?? []) current[fault]++;
  }
  return bars;
}

function summarise(
  source: ReportSource,
  bars: readonly ReportBar[],
  changes: readonly ReportChange[],
): ReportSummary {
  const { line, clock, durationMs } = source;
  const { form } = line.course;
  let slots = 0;
  let unjudged = 0;
  const sums = { clean: 0, gap: 0, early: 0, late: 0, outside: 0, interval: 0, extra: 0 };
  for (const bar of bars) {
    slots += bar.slots;
    unjudged += bar.unjudged;
    sums.clean += bar.clean;
    for (const fault of FAULTS) sums[fault] += bar[fault];
  }
  const slotsInBeat = source.settings.slotsPerBeat ?? defaultSlotsPerBeat(form.meter);
  const free = source.settings.level === 'free';
  const summary = {
    slots,
    clean: sums.clean,
    cleanRate: slots === 0 ? null : sums.clean / slots,
    unplayed: source.unplayed,
    unjudged,
    gap: sums.gap,
    early: sums.early,
    late: sums.late,
    outside: sums.outside,
    interval: sums.interval,
    extra: sums.extra,
    changes: countArrivals(changes),
    timing: summariseTiming(line, free ? 0 : slotsInBeat),
    line: summariseLine(line),
  };
  if (!free) return summary;
  return {
    ...summary,
    rhythm: summariseRhythm(line, durationMs, clock, form.meter),
  };
}

function countArrivals(changes: readonly ReportChange[]): ReportSummary['changes'] {
  const counted = changes.filter(
    ({ arrival }) => arrival !== 'unchanged' && arrival !== 'unjudged',
  );
  const having = (arrival: ReportChange['arrival']): number =>
    counted.filter((change) => change.arrival === arrival).length;
  return {
    counted: counted.length,
    onTime: having('onTime'),
    late: having('late'),
    early: counted.filter((change) => change.earlyBy > 0).length,
    unproven: having('unproven'),
  };
}
