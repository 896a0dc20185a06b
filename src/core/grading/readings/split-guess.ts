/** Where a left hand that was not told of lies. Source: `grading.md`, "Other readings", `split`. */

import type { TakeEvent } from '../../take/model.ts';
import { RESOLUTION_MS } from '../resolution.ts';

/** In at least this many places … */
export const LEAST_PLACES = 8;
/** … two keys further apart than this sound together. */
export const HAND_SEMITONES = 9;

interface KeyDown {
  readonly midi: number;
  readonly atMs: number;
}

/** One place where a low and a high key sound within half a slot. */
interface Spread {
  readonly low: number;
  readonly high: number;
}

/**
 * The lowest key of the line: the one above the widest gap that parts the low keys from the high ones, of equal gaps the lower.
 * Null without enough places. Onsets in order of time, latency taken off; `halfSlotMs` tells half a slot's length at a time.
 */
export function guessSplit(
  onsets: readonly KeyDown[],
  halfSlotMs: (atMs: number) => number,
): number | null {
  const spreads = spreadsOf(onsets, halfSlotMs);
  if (spreads.length < LEAST_PLACES) return null;
  const keys = [...new Set(onsets.map(({ midi }) => midi))].sort((a, b) => a - b);
  let best: { readonly parted: number; readonly width: number; readonly key: number } | null = null;
  for (const [index, key] of keys.entries()) {
    const below = keys[index - 1];
    if (below === undefined) continue;
    const parted = spreads.filter(({ low, high }) => low <= below && high >= key).length;
    const width = key - below;
    const isBetter =
      best === null || parted > best.parted || (parted === best.parted && width > best.width);
    if (isBetter) best = { parted, width, key };
  }
  return best?.key ?? null;
}

/** Onsets of the keys struck, latency taken off, in order of time. */
export function onsetsOf(
  events: readonly TakeEvent[],
  latencyMs: (event: TakeEvent) => number,
): readonly KeyDown[] {
  const onsets: KeyDown[] = [];
  for (const event of events) {
    if (event.kind !== 'noteOn' || event.velocity === 0) continue;
    onsets.push({ midi: event.midi, atMs: event.atMs - latencyMs(event) });
  }
  return onsets.sort((one, other) => one.atMs - other.atMs);
}

function spreadsOf(
  onsets: readonly KeyDown[],
  halfSlotMs: (atMs: number) => number,
): readonly Spread[] {
  const spreads: Spread[] = [];
  for (let index = 0; index < onsets.length; index++) {
    const first = onsets[index];
    if (first === undefined) break;
    const endMs = first.atMs + halfSlotMs(first.atMs) + RESOLUTION_MS;
    let [low, high, next] = [first.midi, first.midi, index + 1];
    for (let other = onsets[next]; other !== undefined && other.atMs <= endMs; ) {
      low = Math.min(low, other.midi);
      high = Math.max(high, other.midi);
      other = onsets[++next];
    }
    if (high - low <= HAND_SEMITONES) continue;
    spreads.push({ low, high });
    index = next - 1;
  }
  return spreads;
}
