/**
 * How often a law is asked. `npm test` asks a part, always the same one where a seed is given; `npm run bench -- laws` asks
 * all. fast-check prints the seed of a run that fails.
 */

const asksAll = process.env['ALL_RUNS'] === '1';

/** All of so many runs, or that part of them (by default a hundredth) in `npm test`. */
export function runs(all: number, part: number = Math.ceil(all / 100)): number {
  return asksAll ? all : part;
}

/** All of these, or so many of them in `npm test`, evenly spread from the first on. */
export function someOf<Item>(all: readonly Item[], part: number): readonly Item[] {
  if (asksAll || part >= all.length) return all;
  const group = (index: number) => Math.floor((index * part) / all.length);
  return all.filter((_, index) => group(index) !== group(index - 1));
}
