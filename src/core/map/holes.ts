/** Holes and habits: what a player does less, and more, than lines that step at random, and surely so. */

import { normalPoint } from '../progress/central-points.ts';
import { wilsonInterval, Z_95 } from '../progress/wilson.ts';
import type { Expected } from './baseline.ts';
import type { Feature, FeatureCount } from './features.ts';

export interface Finding {
  readonly kind: 'hole' | 'habit';
  readonly feature: Feature;
  readonly count: number;
  readonly of: number;
  /** The share that lines stepping at random have. */
  readonly expected: number;
  /** 95 % bounds of the player's share. */
  readonly lower: number;
  readonly upper: number;
}

/** Of fewer notes on a chord, or crossings of a change, nothing is said. Source: `grading.md`, "The map". */
export const LEAST_NOTES = 80;
export const LEAST_CROSSINGS = 20;

/** Share of false findings among all that are named, at most. */
const FALSE_SHARE = 0.05;

function leastOf({ kind }: Feature): number {
  return kind === 'tone' || kind === 'octave' ? LEAST_NOTES : LEAST_CROSSINGS;
}

/** Whether there is too little of what a feature is counted in to say anything of it. */
export function isWaiting({ feature, of }: FeatureCount): boolean {
  return of < leastOf(feature);
}

interface Judged {
  readonly kind: 'hole' | 'habit';
  readonly counted: FeatureCount;
  readonly expected: Expected;
  /** How far out the count lies in the normal distribution; larger is more surprising. */
  readonly z: number;
}

/**
 * The holes and habits of a map, largest first: those in which most notes are missing, or are too many. `counts` and
 * `expected` are of the same form, in the same order. False discoveries are held over the whole map. Source: Y. Benjamini,
 * Y. Hochberg, "Controlling the False Discovery Rate", Journal of the Royal Statistical Society B 57 (1995), 289–300; from
 * memory.
 */
export function findHoles(
  counts: readonly FeatureCount[],
  expected: readonly Expected[],
): readonly Finding[] {
  const judged = counts.flatMap((counted, index): readonly Judged[] => {
    const random = expected[index];
    if (random === undefined || isWaiting(counted)) return [];
    // What lines at random hardly ever do, nobody misses.
    if (random.share <= 0 || random.share >= 1) return [];
    const of = counted.of * random.weight;
    const count = counted.count * random.weight;
    const hole: Judged = {
      kind: 'hole',
      counted,
      expected: random,
      z: -lowerTail(count, of, random.share),
    };
    if (counted.feature.kind !== 'arrival') return [hole];
    const z = -lowerTail(of - count, of, 1 - random.share);
    return [hole, { kind: 'habit', counted, expected: random, z }];
  });
  const sorted = judged.toSorted((one, other) => other.z - one.z);
  let found = 0;
  sorted.forEach(({ z }, index) => {
    const chance = (FALSE_SHARE * (index + 1)) / judged.length;
    // The central share between −z and z leaves half of the rest on each side.
    if (z >= normalPoint(1 - 2 * chance)) found = index + 1;
  });
  return sorted
    .slice(0, found)
    .map(({ kind, counted, expected }) => {
      const { feature, count, of } = counted;
      const { lower, upper } = wilsonInterval(count * expected.weight, of * expected.weight, Z_95);
      return { kind, feature, count, of, expected: expected.share, lower, upper };
    })
    .toSorted((one, other) => sizeOf(other) - sizeOf(one));
}

/** Notes by which a count differs from what random lines would show. */
function sizeOf({ count, of, expected }: Finding): number {
  return Math.abs(count - of * expected);
}

/**
 * The normal deviate below which as much lies as below `count` or on it in the binomial distribution of so many trials, whole or
 * not. Source: B. H. Camp, "Approximation to the point binomial", Annals of Mathematical Statistics 22 (1951), 130–131; from
 * memory.
 */
function lowerTail(count: number, trials: number, share: number): number {
  if (count >= trials) return Number.POSITIVE_INFINITY;
  const a = 1 / (9 * (trials - count));
  const b = 1 / (9 * (count + 1));
  const ratio = Math.cbrt(((count + 1) * (1 - share)) / ((trials - count) * share));
  return ((1 - b) * ratio - (1 - a)) / Math.sqrt(b * ratio ** 2 + a);
}
