/** Chance as a function of place: the same seed and place give the same number, in whatever order they are asked. */

/** Which of several independent chances at the same place is meant. */
export const STREAM = { key: 1, turn: 2, height: 3, rhythm: 4, velocity: 5, drill: 6 } as const;

/**
 * A number evenly from 0 up to, not including, 1. In: whole numbers. The mixing steps are those of the 32-bit finaliser
 * of MurmurHash3, which is in the public domain; from memory.
 */
export function chanceAt(seed: number, stream: number, index: number, sub = 0): number {
  const high = Math.floor(seed / 4_294_967_296);
  let hash = mix(seed ^ Math.imul(high, 0x9e3779b1));
  hash = mix(hash ^ Math.imul(stream, 0x85ebca77));
  hash = mix(hash ^ Math.imul(index + 1, 0xc2b2ae3d));
  hash = mix(hash ^ Math.imul(sub + 1, 0x27d4eb2f));
  return (hash >>> 0) / 4_294_967_296;
}

function mix(value: number): number {
  let hash = value | 0;
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
  return hash ^ (hash >>> 16);
}
