/** A pickup as the short bar it is written as: whole beats, a silence before it where it begins within one. */

import {
  eighthsPerBeat,
  type FormChord,
  type Meter,
  PICKUP_BAR,
  pickupMeter,
} from '../chart/index.ts';
import { TWELFTHS } from '../grading/free-line.ts';
import { layMeasures, type Measure } from './measures.ts';
import type { Sound } from './sounds.ts';

/** What fills the pickup up to whole beats, told apart from a rest in it. */
export const FILLING = -1;

/** The slot of a note nobody judges. */
export const NO_SLOT = -2;

/**
 * The bar before bar 1. In: its length in twelfths of a beat, at least 1; the sounds before the first downbeat, which is
 * at 0; the chords on its beats; the meter of bar 1.
 */
export function pickupMeasure(
  leadIn: number,
  sounds: readonly Sound[],
  chords: readonly FormChord[],
  meter: Meter,
): Measure {
  const eighths = Math.ceil(leadIn / TWELFTHS) * eighthsPerBeat(meter);
  const length = Math.ceil(leadIn / TWELFTHS) * TWELFTHS;
  const filling: Sound = { from: 0, length: length - leadIn, name: null, slot: FILLING };
  const own = sounds
    .filter(({ from }) => from < 0)
    .map((sound) => ({ ...sound, from: sound.from + length }));
  const short = {
    ...{ bar: PICKUP_BAR, section: null, beginsSection: false, chords },
    meter: pickupMeter(eighths, meter),
  };
  const [measure] = layMeasures(
    { bars: [short] },
    filling.length === 0 ? own : [filling, ...own],
    1,
  );
  return {
    ...{ chorus: 1, bar: PICKUP_BAR, meter, meterSign: null, chords },
    beats: measure?.beats ?? [],
  };
}

/** Bars with a pickup before them; the meter stands where the staff begins. */
export function withPickup(pickup: Measure, bars: readonly Measure[]): readonly Measure[] {
  const [first, ...rest] = bars;
  if (first === undefined) return [pickup];
  return [{ ...pickup, meterSign: first.meterSign }, { ...first, meterSign: null }, ...rest];
}
