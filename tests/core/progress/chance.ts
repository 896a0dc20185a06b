/** Seeded chance for simulations: the same seed, the same players. */

export type Chance = () => number;

/** 0 to 1, 1 left out. Mulberry32, from memory. */
export function chanceOf(seed: number): Chance {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let bits = Math.imul(state ^ (state >>> 15), 1 | state);
    bits = (bits + Math.imul(bits ^ (bits >>> 7), 61 | bits)) ^ bits;
    return ((bits ^ (bits >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Evenly spread between two bounds. */
export function between(chance: Chance, low: number, high: number): number {
  return low + chance() * (high - low);
}

/** Standard normal, by Box and Muller. */
export function normal(chance: Chance): number {
  return Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());
}
