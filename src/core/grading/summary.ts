/** The figures over a whole take: timing, the shape of the line, the use of rhythm at `free`. */

import { isCompound, type Meter } from '../chart/index.ts';
import type { BeatClock } from '../grid/beat-clock.ts';
import { TWELFTHS } from './free-line.ts';
import { chordAt, type GradedLine } from './graded-line.ts';
import { isJudged, type Ledger, midiAt, nominalAt, onsetAt } from './ledger.ts';
import { hasPc } from './palette-view.ts';
import type { LineSummary, RhythmSummary, TimingSummary } from './report.ts';
import { RESOLUTION_MS } from './resolution.ts';
import { mean, median, slope, standardDeviation } from './statistics.ts';

/** A silence this long in beats is a rest: shorter ones are articulation. Common practice, no source. */
const LEAST_REST_BEATS = 0.5;

/**
 * Twelfths of a beat on which eighths, triplets and sixteenths lie, of a beat that is a quarter or an eighth, a dotted quarter, a
 * half; the sixteenths of a half that are none of its twelfths left out.
 */
const SIMPLE_PLACES = [0, 3, 4, 6, 8, 9, 12];
const COMPOUND_PLACES = [0, 2, 4, 6, 8, 10, 12];
const HALF_PLACES = [0, 2, 3, 4, 6, 8, 9, 10, 12];

function placesOf(meter: Meter): readonly number[] {
  if (meter.unit === 2) return HALF_PLACES;
  return isCompound(meter) ? COMPOUND_PLACES : SIMPLE_PLACES;
}

/**
 * How the onsets lay against the grid. Slope is in ms per bar, bars measured as shares of a chorus. The swing
 * ratio is the median over beats whose two eighths and next downbeat are all played.
 */
export function summariseTiming(line: GradedLine, slotsInBeat: number): TimingSummary {
  const { course, places, ledger } = line;
  const deviationsMs: number[] = [];
  const bars: number[] = [];
  const swingRatios: number[] = [];
  const barsPerBeat = course.form.bars.length / course.beats;
  for (let index = 0; index <= ledger.lastFilled; index++) {
    if (midiAt(ledger, index) === null) continue;
    const { sub } = places.placeOf(index);
    deviationsMs.push(onsetAt(ledger, index) - nominalAt(ledger, index));
    bars.push(places.beatsIn(index) * barsPerBeat);
    const ratio = slotsInBeat === 2 && sub === 0 ? swingRatioAt(ledger, index) : null;
    if (ratio !== null) swingRatios.push(ratio);
  }
  return {
    meanMs: mean(deviationsMs),
    sdMs: standardDeviation(deviationsMs),
    medianMs: median(deviationsMs),
    slopeMsPerBar: slope(bars, deviationsMs),
    swingRatio: median(swingRatios),
    steadyOffsetMs: null,
    steadySwing: null,
  };
}

function swingRatioAt(ledger: Ledger, index: number): number | null {
  for (let after = 1; after <= 2; after++) if (midiAt(ledger, index + after) === null) return null;
  const offMs = onsetAt(ledger, index + 1);
  return (offMs - onsetAt(ledger, index)) / (onsetAt(ledger, index + 2) - offMs);
}

/** The shape of the line: range, turns, longest clean run, chord tones on beats, intervals by size. */
export function summariseLine(line: GradedLine): LineSummary {
  const { places, ledger } = line;
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
  for (let index = 0; index <= ledger.lastFilled; index++) {
    run = isJudged(ledger, index) && ledger.faults[index] === 0 ? run + 1 : 0;
    longestRun = Math.max(longestRun, run);
    const midi = midiAt(ledger, index);
    if (midi !== null) {
      lowest = Math.min(lowest ?? midi, midi);
      highest = Math.max(highest ?? midi, midi);
      const chordMask = chordAt(line, index)?.chordMask ?? 0;
      if (chordMask !== 0 && places.placeOf(index).sub === 0) {
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
  { places, ledger }: GradedLine,
  durationMs: (noteId: number) => number,
  clock: BeatClock,
  meter: Meter,
): RhythmSummary {
  const values = new Map<number, number>();
  const deviationsMs: number[] = [];
  let rests = 0;
  let offBeat = 0;
  let syncopated = 0;
  let lastEndMs: number | null = null;
  let lastBeatsIn = 0;
  let pairs = 0;
  for (let index = 0; index <= ledger.lastFilled; index++) {
    if (!isJudged(ledger, index)) {
      lastEndMs = null;
      continue;
    }
    const { sub } = places.placeOf(index);
    const beatsIn = places.beatsIn(index);
    const beat = Math.floor(beatsIn);
    const onsetMs = onsetAt(ledger, index);
    const endMs = onsetMs + durationMs(ledger.noteId[index] ?? -1);
    deviationsMs.push(nearestPlaceMs(onsetMs, beat, clock, meter));
    if (lastEndMs !== null) {
      const twelfths = Math.round((beatsIn - lastBeatsIn) * TWELFTHS);
      values.set(twelfths, (values.get(twelfths) ?? 0) + 1);
      pairs++;
      const leastRestMs = LEAST_REST_BEATS * clock.beatMs(beat);
      if (onsetMs - lastEndMs >= leastRestMs - RESOLUTION_MS) rests++;
    }
    lastEndMs = endMs;
    lastBeatsIn = beatsIn;
    if (sub === 0) continue;
    offBeat++;
    if (endMs > clock.timeMs(beat + 1) + RESOLUTION_MS) syncopated++;
  }
  const shares = [...values].sort(([a], [b]) => a - b);
  return {
    values: Object.fromEntries(shares.map(([twelfths, count]) => [twelfths, count / pairs])),
    rests,
    syncopation: offBeat === 0 ? null : syncopated / offBeat,
    medianDeviationMs: median(deviationsMs),
  };
}

function nearestPlaceMs(onsetMs: number, beat: number, clock: BeatClock, meter: Meter): number {
  const deviations = placesOf(meter).map(
    (twelfth) => onsetMs - clock.timeMs(beat + twelfth / TWELFTHS),
  );
  return deviations.reduce((best, next) => (Math.abs(next) < Math.abs(best) ? next : best));
}
