/** What a meter means for the beat: how many beats a bar has and how long one is in quarters. */

import type { Meter } from '../chart/model.ts';
import type { SlotsPerBeat } from '../words.ts';

/** True for 6/8, 9/8 and 12/8, whose beat is a dotted quarter. Source: `grading.md`, "Time and grid". */
export function isCompound(meter: Meter): boolean {
  return meter.unit === 8 && meter.count % 3 === 0 && meter.count > 3;
}

/** Beats in one bar: the upper figure, a third of it in a compound meter. */
export function beatsPerBar(meter: Meter): number {
  return isCompound(meter) ? meter.count / 3 : meter.count;
}

/** Length of one beat in quarter notes: 1.5 in a compound meter. */
export function quartersPerBeat(meter: Meter): number {
  return isCompound(meter) ? 1.5 : 4 / meter.unit;
}

/** Eighth notes per beat, the default grid: 2 in simple meters, 3 in compound ones. */
export function defaultSlotsPerBeat(meter: Meter): SlotsPerBeat {
  return isCompound(meter) ? 3 : 2;
}

/** `12/8`. */
export function formatMeter(meter: Meter): string {
  return `${meter.count}/${meter.unit}`;
}
