/** Seeded chance for invented data: the same seed gives the same numbers on every machine. */

export interface Chance {
  /** Evenly from 0 up to, not including, 1. */
  next(): number;
  /** From a normal distribution of mean 0 and standard deviation 1. */
  normal(): number;
}

/** Mulberry32, a generator of 32-bit state in the public domain, and the Box–Muller transform on top of it. */
export function seededChance(seed: number): Chance {
  let state = seed | 0;
  function next(): number {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  }
  return {
    next,
    normal: () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
  };
}
