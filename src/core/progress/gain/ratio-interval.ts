/** A ratio of two estimates, and how sure it is. */

export interface Estimate {
  readonly value: number;
  readonly variance: number;
}

export interface RatioInterval {
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * The ratio of two normally distributed estimates with the interval that `reach` standard errors give; null where the one below
 * cannot be told from zero, for then no bound holds.
 * Source: E. C. Fieller, "Some Problems in Interval Estimation", Journal of the Royal Statistical Society B 16 (1954), 175–185; from
 * memory.
 */
export function ratioInterval(
  above: Estimate,
  below: Estimate,
  covariance: number,
  reach: number,
): RatioInterval | null {
  // The ratios r for which above − r below lies within reach of zero: a r² − 2 b r + c ≤ 0.
  const a = below.value ** 2 - reach ** 2 * below.variance;
  const b = above.value * below.value - reach ** 2 * covariance;
  const c = above.value ** 2 - reach ** 2 * above.variance;
  const root = b ** 2 - a * c;
  if (!(a > 0 && root >= 0)) return null;
  const half = Math.sqrt(root);
  return { ratio: above.value / below.value, lower: (b - half) / a, upper: (b + half) / a };
}
