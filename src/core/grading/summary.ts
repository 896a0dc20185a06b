/** The figures over a whole take: timing, the shape of the line, the use of rhythm at `free`. */

import type { BeatClock } from '../grid/beat-clock.ts';
import type { Course } from './course.ts';
import { TWELFTHS } from './free-line.ts';
import { chordAt } from './inside.ts';
import type { EntryPlace, LineEntry } from './line-entry.ts';
import { hasPc } from './palette-view.ts';
import type { LineSummary, RhythmSummary, TimingSummary } from './report.ts';
import { mean, median, slope, standardDeviation } from './statistics.ts';

/** A silence this long in beats is a rest: shorter ones are articulation. Common practice, no source. */
const LEAST_REST_BEATS = 0.5;

/** Twelfths of a beat on which eighths, triplets and sixteenths lie, of a simple and of a compound beat. */
const SIMPLE_PLACES = [0, 3, 4, 6, 8, 9, 12];
const COMPOUND_PLACES = [0, 2, 4, 6, 8, 10, 12];

/** What the summaries read: the graded entries, and where they lie. */
export interface Graded {
  readonly course: Course;
  readonly entries: readonly LineEntry[];
  placeOf(index: number): EntryPlace;
}

/**
 * How the onsets lay against the grid. Slope is in ms per bar, bars measured as shares of a chorus. The swing
 * ratio is the median over beats whose two eighths and next downbeat are all played.
 */
export function summariseTiming(graded: Graded, slotsInBeat: number): TimingSummary {
  const { course, entries } = graded;
  const deviationsMs: number[] = [];
  const bars: number[] = [];
  const swingRatios: number[] = [];
  const barsPerBeat = course.form.bars.length / course.beats;
  for (const { index, strike, nominalMs } of entries) {
    if (strike === null) continue;
    const deviationMs = strike.onsetMs - nominalMs;
    const place = graded.placeOf(index);
    deviationsMs.push(deviationMs);
    bars.push(place.beatsIn * barsPerBeat);
    const ratio = slotsInBeat === 2 && place.sub === 0 ? swingRatioAt(entries, index) : null;
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

function swingRatioAt(entries: readonly LineEntry[], index: number): number | null {
  const on = entries[index]?.strike;
  const off = entries[index + 1]?.strike;
  const nextOn = entries[index + 2]?.strike;
  if (!on || !off || !nextOn) return null;
  return (off.onsetMs - on.onsetMs) / (nextOn.onsetMs - off.onsetMs);
}

/** The shape of the line: range, turns, longest clean run, chord tones on beats, intervals by size. */
export function summariseLine(graded: Graded): LineSummary {
  const { course, entries } = graded;
  let lowest: number | null = null;
  let highest: number | null = null;
  let turns = 0;
  let direction = 0;
  let run = 0;
  let longestRun = 0;
  let onBeats = 0;
  let chordTones = 0;
  let before: number | null = null;
  const intervals: number[] = [];
  for (const { index, strike, ordinal, faults } of entries) {
    run = faults === 0 ? run + 1 : 0;
    longestRun = Math.max(longestRun, run);
    const midi = strike?.midi ?? null;
    if (midi !== null) {
      lowest = Math.min(lowest ?? midi, midi);
      highest = Math.max(highest ?? midi, midi);
      const chordMask = chordAt(course, ordinal)?.chordMask ?? 0;
      if (chordMask !== 0 && graded.placeOf(index).sub === 0) {
        onBeats++;
        if (hasPc(chordMask, midi % 12)) chordTones++;
      }
    }
    if (midi !== null && before !== null) {
      const size = Math.abs(midi - before);
      intervals[size] = (intervals[size] ?? 0) + 1;
      const moved = Math.sign(midi - before);
      if (moved !== 0 && direction !== 0 && moved !== direction) turns++;
      if (moved !== 0) direction = moved;
    }
    before = midi;
  }
  const sizes = intervals.flatMap((count, size) => [[String(size), count] as const]);
  return {
    lowest,
    highest,
    turns,
    longestRun,
    chordTonesOnBeats: onBeats === 0 ? null : chordTones / onBeats,
    intervals: Object.fromEntries(sizes),
  };
}

/**
 * How rhythm was used at `free`. In: durations by note id (ms, null while sounding), the length of a beat.
 * Source of what is described: `grading.md`, "Level `free`".
 */
export function summariseRhythm(
  graded: Graded,
  durationMs: (noteId: number) => number,
  clock: BeatClock,
  compound: boolean,
): RhythmSummary {
  const values = new Map<number, number>();
  const deviationsMs: number[] = [];
  let rests = 0;
  let offBeat = 0;
  let syncopated = 0;
  let lastEndMs: number | null = null;
  let lastBeatsIn = 0;
  for (const { index, strike } of graded.entries) {
    if (strike === null) continue;
    const { beatsIn, sub } = graded.placeOf(index);
    const beat = Math.floor(beatsIn);
    deviationsMs.push(nearestPlaceMs(strike.onsetMs, beat, clock, compound));
    if (lastEndMs !== null) {
      const twelfths = Math.round((beatsIn - lastBeatsIn) * TWELFTHS);
      values.set(twelfths, (values.get(twelfths) ?? 0) + 1);
      if (strike.onsetMs - lastEndMs >= LEAST_REST_BEATS * clock.beatMs(beat)) rests++;
    }
    lastEndMs = strike.onsetMs + durationMs(strike.noteId);
    lastBeatsIn = beatsIn;
    if (sub === 0) continue;
    offBeat++;
    if (lastEndMs > clock.timeMs(beat + 1)) syncopated++;
  }
  const counted = Math.max(graded.entries.length - 1, 1);
  const shares = [...values].sort(([a], [b]) => a - b);
  return {
    values: Object.fromEntries(shares.map(([twelfths, count]) => [twelfths, count / counted])),
    rests,
    syncopation: offBeat === 0 ? null : syncopated / offBeat,
    medianDeviationMs: median(deviationsMs),
  };
}

function nearestPlaceMs(
  onsetMs: number,
  beat: number,
  clock: BeatClock,
  compound: boolean,
): number {
  const deviations = (compound ? COMPOUND_PLACES : SIMPLE_PLACES).map(
    (twelfth) => onsetMs - clock.timeMs(beat + twelfth / TWELFTHS),
  );
  return deviations.reduce((best, next) => (Math.abs(next) < Math.abs(best) ? next : best));
}
