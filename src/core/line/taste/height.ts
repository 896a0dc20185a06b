/** Where in its register a line is drawn to: a middle that wanders, so that its peaks do not all fall on one note. */

import type { Register } from '../wish.ts';
import { chanceAt, STREAM } from './noise.ts';

/** The middle is chosen anew every so many beats and moves evenly in between. No source. */
const BEATS_BETWEEN = 8;
/** It keeps within this share of the register around its centre. No source. */
const WANDERING_SHARE = 0.5;
/** A narrow register has no edges to fear. */
const LEAST_HALF_WIDTH = 4;

/** How far off its middle a key lies at a time: 0 in the middle, about 1 at an edge of the register, squared. */
export function createHeight(
  { lowestMidi, highestMidi }: Register,
  seed: number,
): (beats: number, midi: number) => number {
  const centre = (lowestMidi + highestMidi) / 2;
  const halfWidth = Math.max(LEAST_HALF_WIDTH, (highestMidi - lowestMidi) / 2);
  const knot = (index: number): number =>
    centre + (2 * chanceAt(seed, STREAM.height, index) - 1) * halfWidth * WANDERING_SHARE;
  return (beats, midi) => {
    const index = Math.floor(beats / BEATS_BETWEEN);
    const share = beats / BEATS_BETWEEN - index;
    const middle = knot(index) * (1 - share) + knot(index + 1) * share;
    return ((midi - middle) / halfWidth) ** 2;
  };
}
