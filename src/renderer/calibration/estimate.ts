/**
 * How late keys arrive, estimated from a player's keys along with a click. Pure.
 *
 * The estimate is a median after keys far from it were left out: one slip or one missed click moves a mean, hardly a
 * median. Scale by the median absolute deviation × 1.4826; F. R. Hampel, "The influence curve and its role in robust estimation",
 * JASA 69 (1974), 383–393; from memory.
 * People tend to play a little ahead of a click, by some 30 to 50 ms (G. Aschersleben, W. Prinz, Perception & Psychophysics 57
 * (1995), 305–317, abstract), musicians less (B. Repp, Psychonomic Bulletin & Review 12 (2005), 969–992, second-hand): that habit
 * is part of the offset found, as it is part of every take.
 */

import { median, standardDeviation } from 'simple-statistics';

export const CALIBRATION_BEATS = 16;
/** Slow enough that the latency of a wireless speaker is less than half a beat. */
export const CALIBRATION_BPM = 80;
export const CALIBRATION_BEAT_MS = 60_000 / CALIBRATION_BPM;
/** Fewer keys than this say nothing. Own choice. */
export const FEWEST_KEYS = 10;
/** A spread above this is no steady click-along, or no steady connection. Own choice, about twice what a musician scatters (from memory). */
const LOOSE_MS = 35;
const SCALE_OF_MAD = 1.4826;
const OUTLIER_SCALES = 3;
/** So even a player would have to be for nothing to be left out. */
const LEAST_SCALE_MS = 4;

export type Calibration =
  | { readonly kind: 'tooFew'; readonly keys: number }
  | {
      readonly kind: 'found';
      readonly latencyMs: number;
      /** Standard deviation of the keys that count. */
      readonly spreadMs: number;
      /** Offsets in the order they were played, and whether each counts. */
      readonly keys: readonly { readonly offsetMs: number; readonly counts: boolean }[];
      readonly isLoose: boolean;
    };

/** Estimates from key-downs in ms after the first of the clicks, which lie `CALIBRATION_BEAT_MS` apart. */
export function calibrate(onsetsMs: readonly number[]): Calibration {
  const offsets = offsetsFromClicks(onsetsMs);
  if (offsets.length < FEWEST_KEYS) return { kind: 'tooFew', keys: offsets.length };
  const centre = median(offsets);
  const scale = SCALE_OF_MAD * median(offsets.map((offset) => Math.abs(offset - centre)));
  const limitMs = OUTLIER_SCALES * Math.max(scale, LEAST_SCALE_MS);
  const keys = offsets.map((offsetMs) => ({
    offsetMs,
    counts: Math.abs(offsetMs - centre) <= limitMs,
  }));
  const counting = keys.filter(({ counts }) => counts).map(({ offsetMs }) => offsetMs);
  const spreadMs = standardDeviation(counting);
  return {
    kind: 'found',
    latencyMs: Math.round(median(counting) * 10) / 10,
    spreadMs: Math.round(spreadMs * 10) / 10,
    keys,
    isLoose: spreadMs > LOOSE_MS,
  };
}

/** For each click the nearest key within half a beat of it. */
function offsetsFromClicks(onsetsMs: readonly number[]): number[] {
  const nearest = new Map<number, number>();
  for (const onsetMs of onsetsMs) {
    const beat = Math.round(onsetMs / CALIBRATION_BEAT_MS);
    if (beat < 0 || beat >= CALIBRATION_BEATS) continue;
    const offsetMs = onsetMs - beat * CALIBRATION_BEAT_MS;
    const known = nearest.get(beat);
    if (known === undefined || Math.abs(offsetMs) < Math.abs(known)) nearest.set(beat, offsetMs);
  }
  return [...nearest].sort(([a], [b]) => a - b).map(([, offsetMs]) => offsetMs);
}
