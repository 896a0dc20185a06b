/** Chance as a function of place: the same seed and place give the same number, in whatever order they are asked. */

import { scatter } from '../../chance.ts';

/** Which of several independent chances at the same place is meant. */
export const STREAM = { note: 1, echo: 2, height: 3, rhythm: 4, velocity: 5, drill: 6 } as const;

/** A number evenly from 0 up to, not including, 1. In: whole numbers. */
export function chanceAt(seed: number, stream: number, index: number, sub = 0): number {
  const high = Math.floor(seed / 4_294_967_296);
  let hash = scatter(seed ^ Math.imul(high, 0x9e3779b1));
  hash = scatter(hash ^ Math.imul(stream, 0x85ebca77));
  hash = scatter(hash ^ Math.imul(index + 1, 0xc2b2ae3d));
  hash = scatter(hash ^ Math.imul(sub + 1, 0x27d4eb2f));
  return (hash >>> 0) / 4_294_967_296;
}
