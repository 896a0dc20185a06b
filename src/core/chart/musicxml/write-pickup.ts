/** The pickup as a measure before the first one, numbered 0 and implicit. */

import { TWELFTHS } from '../../grading/free-line.ts';
import { bareBars, melodyMeasures } from '../../melody/melody-measures.ts';
import type { Melody } from '../../melody/model.ts';
import { beatElements, DIVISIONS } from '../../score/note-elements.ts';
import { FILLING } from '../../score/pickup-measure.ts';
import { eighthsPerBeat, quartersPerBeat } from '../meter.ts';
import type { Chart, Meter, WrittenPickup } from '../model.ts';
import { firstMeter } from '../pickup.ts';
import { harmonyElement, timeElement } from './elements.ts';
import { branch } from './xml-text.ts';

/**
 * The measure, or null where neither the chart nor its melody begins before bar 1: the notes of the melody with rests
 * before them as far as the pickup is longer, under the pickup's own chords. `first` is what stands in it once.
 */
export function pickupElement(
  chart: Chart,
  melody: Melody | null,
  first: readonly string[],
): string | null {
  const meter = firstMeter(chart);
  const leadIn = wholeLeadIn(chart.pickup, melody, meter);
  if (leadIn === 0) return null;
  const own = { ...(melody ?? SILENCE), leadIn };
  // With bar 1 after it, into which a note may be tied.
  const [pickup] = melodyMeasures(bareBars([meter]), melody === null ? [] : [0], own);
  if (pickup === undefined) return null;
  const perBeat = quartersPerBeat(meter) * DIVISIONS;
  const chords = chart.pickup === null ? [] : chordElements(chart.pickup, meter, leadIn);
  const beats = pickup.beats.map(({ notes, tuplet }) => ({
    notes: notes.filter(({ slot }) => slot !== FILLING),
    tuplet,
  }));
  return branch(
    'measure',
    [
      branch('attributes', [...first, timeElement(meter)]),
      ...chords,
      ...beats.flatMap((beat) => beatElements(beat, perBeat)),
    ],
    { number: 0, implicit: 'yes' },
  );
}

const SILENCE: Melody = { leadIn: 0, fifths: 0, bars: [], sounds: [] };

/** The length written, in twelfths: that of the melody's where it reads back as the chart's, or is longer. */
function wholeLeadIn(pickup: WrittenPickup | null, melody: Melody | null, meter: Meter): number {
  const eighth = TWELFTHS / eighthsPerBeat(meter);
  const leadIn = melody?.leadIn ?? 0;
  const eighths = pickup?.eighths ?? 0;
  return Math.ceil(leadIn / eighth) >= eighths ? leadIn : eighths * eighth;
}

/** Each chord where it begins, counted from the start of the measure. */
function chordElements(
  { eighths, chords }: WrittenPickup,
  meter: Meter,
  leadIn: number,
): readonly string[] {
  const beats = eighths / eighthsPerBeat(meter);
  const perBeat = quartersPerBeat(meter) * DIVISIONS;
  return chords.map(({ beat, symbol }) => {
    const before = beat === 1 ? beats : Math.ceil(beats) - (beat - 1);
    const offset = Math.max(0, leadIn / TWELFTHS - before) * perBeat;
    return harmonyElement(symbol, Math.round(offset));
  });
}
