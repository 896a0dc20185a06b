/** The figures over a whole take: timing, the shape of the line, the use of rhythm at `free`. */

import type { Course } from './course.ts';
import { chordAt } from './inside.ts';
import { type Ledger, NO_NOTE } from './ledger.ts';
import type { EntryPlace } from './line-entry.ts';
import { hasPc } from './palette-view.ts';
import type { LineSummary, RhythmSummary, TimingSummary } from './report.ts';
import { mean, median, slope, standardDeviation } from './statistics.ts';

/** A silence this long in beats is a rest: shorter ones are articulation. Common practice, no source. */
const LEAST_REST_BEATS = 0.5;

/** Twelfths of a beat on which eighths, triplets and sixteenths lie, of a simple and of a compound beat. */
const SIMPLE_PLACES = [0, 3, 4, 6, 8, 9, 12];
const COMPOUND_PLACES = [0, 2, 4, 6, 8, 10, 12];

/** What the summaries read: the ledger up to `last`, and where its entries lie. */
export interface Graded {
  readonly course: Course;
  readonly ledger: Ledger;
  readonly last: number;
  placeOf(index: number): EntryPlace;
}

/**
 * How the onsets lay against the grid. Slope is in ms per bar, bars measured as shares of a chorus. The swing
 * ratio is the median over beats whose two eighths and next downbeat are all played.
 */
export function summariseTiming(graded: Graded, slotsInBeat: number): TimingSummary {
  const { course, ledger, last } = graded;
  const deviationsMs: number[] = [];
  const bars: number[] = [];
  const swingRatios: number[] = [];
  const barsPerChorus = course.form.bars.length;
  let beatsPerChorus = 0;
  for (const bar of course.form.bars) {
    for (const chord of bar.chords) beatsPerChorus += chord.beats;
  }
  for (let index = 0; index <= last; index++) {
    if ((ledger.midi[index] ?? NO_NOTE) === NO_NOTE) continue;
    deviationsMs.push((ledger.onsetMs[index] ?? 0) - (ledger.nominalMs[index] ?? 0));
    const place = graded.placeOf(index);
    bars.push((place.beatsIn * barsPerChorus) / beatsPerChorus);
    const ratio = slotsInBeat === 2 && place.sub === 0 ? swingRatioAt(ledger, index) : null;
    if (ratio !== null) swingRatios.push(ratio);
  }
  return {
    meanMs: mean(deviationsMs),
    sdMs: standardDeviation(deviationsMs),
    medianMs: median(deviationsMs),
    slopeMsPerBar: slope(bars, deviationsMs),
    swingRatio: median(swingRatios),
  };
}

function swingRatioAt(ledger: Ledger, index: number): number | null {
  for (let offset = 0; offset < 3; offset++) {
    if ((ledger.midi[index + offset] ?? NO_NOTE) === NO_NOTE) return null;
  }
  const [on, off, nextOn] = ledger.onsetMs.slice(index, index + 3);
  if (on === undefined || off === undefined || nextOn === undefined) return null;
  return nextOn > off && off > on ? (off - on) / (nextOn - off) : null;
}

/** The shape of the line: range, turns, longest clean run, chord tones on beats, intervals by size. */
export function summariseLine(graded: Graded): LineSummary {
  const { course, ledger, last } = graded;
  let lowest: number | null = null;
  let highest: number | null = null;
  let turns = 0;
  let direction = 0;
  let run = 0;
  let longestRun = 0;
  let onBeats = 0;
  let chordTones = 0;
  let before = NO_NOTE;
  const intervals: number[] = [];
  for (let index = 0; index <= last; index++) {
    run = ledger.faults[index] === 0 ? run + 1 : 0;
    longestRun = Math.max(longestRun, run);
    const midi = ledger.midi[index] ?? NO_NOTE;
    if (midi !== NO_NOTE) {
      lowest = lowest === null ? midi : Math.min(lowest, midi);
      highest = highest === null ? midi : Math.max(highest, midi);
      const chordMask = chordAt(course, ledger.ordinal[index] ?? 0)?.chordMask ?? 0;
      if (chordMask !== 0 && graded.placeOf(index).sub === 0) {
        onBeats++;
        if (hasPc(chordMask, midi % 12)) chordTones++;
      }
    }
    if (midi !== NO_NOTE && before !== NO_NOTE) {
      const size = Math.abs(midi - before);
      intervals[size] = (intervals[size] ?? 0) + 1;
      const moved = Math.sign(midi - before);
      if (moved !== 0 && direction !== 0 && moved !== direction) turns++;
      if (moved !== 0) direction = moved;
    }
    before = midi;
  }
  return {
    lowest,
    highest,
    turns,
    longestRun,
    chordTonesOnBeats: onBeats === 0 ? null : chordTones / onBeats,
    intervals: Object.fromEntries(
      intervals.map((count, size) => [String(size), count]).filter(([, count]) => count),
    ),
  };
}

/**
 * How rhythm was used at `free`. In: durations by note id (ms, null while sounding), the length of a beat.
 * Source of what is described: `grading.md`, "Level `free`".
 */
export function summariseRhythm(
  graded: Graded,
  durationMs: (noteId: number) => number,
  timeMs: (beat: number) => number,
  compound: boolean,
): RhythmSummary {
  const { ledger, last } = graded;
  const values = new Map<number, number>();
  const deviationsMs: number[] = [];
  let rests = 0;
  let offBeat = 0;
  let syncopated = 0;
  for (let index = 0; index <= last; index++) {
    const place = graded.placeOf(index);
    const onsetMs = ledger.onsetMs[index] ?? 0;
    const beatStart = Math.floor(place.beatsIn);
    const beatMs = timeMs(beatStart + 1) - timeMs(beatStart);
    deviationsMs.push(nearestPlaceMs(onsetMs, beatStart, timeMs, compound));
    const endMs = onsetMs + durationMs(ledger.noteId[index] ?? -1);
    if (place.sub !== 0) {
      offBeat++;
      if (endMs > timeMs(beatStart + 1)) syncopated++;
    }
    if (index === last) continue;
    const twelfths = Math.round((graded.placeOf(index + 1).beatsIn - place.beatsIn) * 12);
    values.set(twelfths, (values.get(twelfths) ?? 0) + 1);
    if ((ledger.onsetMs[index + 1] ?? 0) - endMs >= LEAST_REST_BEATS * beatMs) rests++;
  }
  const counted = Math.max(last, 1);
  return {
    values: Object.fromEntries(
      [...values]
        .sort(([a], [b]) => a - b)
        .map(([twelfths, count]) => [String(twelfths), count / counted]),
    ),
    rests,
    syncopation: offBeat === 0 ? null : syncopated / offBeat,
    medianDeviationMs: median(deviationsMs),
  };
}

function nearestPlaceMs(
  onsetMs: number,
  beatStart: number,
  timeMs: (beat: number) => number,
  compound: boolean,
): number {
  const deviations = (compound ? COMPOUND_PLACES : SIMPLE_PLACES).map(
    (twelfth) => onsetMs - timeMs(beatStart + twelfth / 12),
  );
  return deviations.reduce((best, next) => (Math.abs(next) < Math.abs(best) ? next : best));
}
