/** The notes that lead into a target: one approach note, or the two of an enclosure. */

import { chanceAt, STREAM } from '../taste/noise.ts';
import type { Register } from '../wish.ts';
import type { DrillPlace } from './drill-places.ts';
import { isIn, toneFrom } from './tones.ts';

export interface LeadIn {
  /** Notes before the target. */
  readonly notes: number;
  /** Those notes for a key on a slot, not beginning with the key `before` (null: any); null where none fit. */
  write(slot: number, target: number, before: number | null): readonly number[] | null;
}

/** The largest step in semitones. Source: `grading.md`, "Intervals". */
const WHOLE_STEP = 2;
/** Farther than this a palette tone is no neighbour: a major third, the gap of a pentatonic at its widest and one more. */
const WIDEST_NEIGHBOUR = 4;

/**
 * Approach notes: one note a half step below or above the target, or a whole or half step away in the palette in force at
 * the approach. The seed chooses among the four that fit. Common practice, no source.
 */
export function approachNote(
  places: readonly DrillPlace[],
  register: Register,
  seed: number,
): LeadIn {
  return {
    notes: 1,
    write(slot, target, before) {
      const scale = places[slot - 1]?.palette.certainMask ?? 0;
      const kinds = [
        target - 1,
        stepFrom(scale, target, 1),
        target + 1,
        stepFrom(scale, target, -1),
      ];
      const from = Math.floor(chanceAt(seed, STREAM.drill, slot) * kinds.length);
      const inOrder = [...kinds.slice(from), ...kinds.slice(0, from)];
      const midi = inOrder.find((key) => isIn(register, key) && key !== before) ?? null;
      return midi === null ? null : [midi];
    },
  };
}

function stepFrom(mask: number, target: number, n: 1 | -1): number | null {
  const midi = toneFrom(mask, target, n);
  return midi !== null && Math.abs(midi - target) <= WHOLE_STEP ? midi : null;
}

/**
 * Enclosures: the next tone above the target in the palette in force there, at most a major third away, then the half step
 * below, then the target. Above and in the scale first, below and chromatic second: common practice, no source. The
 * other order would leave the chromatic note unresolved by the grader's rule of approaches.
 */
export function enclosure(places: readonly DrillPlace[], register: Register): LeadIn {
  return {
    notes: 2,
    write(slot, target, before) {
      const upper = toneFrom(places[slot - 2]?.palette.certainMask ?? 0, target, 1);
      const lower = target - 1;
      if (!isIn(register, upper) || !isIn(register, lower) || upper === before) return null;
      return upper - target > WIDEST_NEIGHBOUR ? null : [upper, lower];
    },
  };
}
