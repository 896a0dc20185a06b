/** Confidence in a rate from a count. */

/** The 97.5 % point of the standard normal distribution, for two-sided 95 % intervals. */
export const Z_95 = 1.959963984540054;

export interface RateInterval {
  readonly lower: number;
  readonly upper: number;
}

/**
 * The Wilson score interval at 95 %, without continuity correction, of `successes` out of `trials` (whole
 * numbers, 0 ≤ successes ≤ trials). Nothing tried tells nothing: 0 of 0 gives 0 to 1.
 * Source: E. B. Wilson, JASA 22 (1927), 209–212; R. G. Newcombe, Statistics in Medicine 17 (1998), method 3.
 */
export function wilsonInterval(successes: number, trials: number): RateInterval {
  if (trials === 0) return { lower: 0, upper: 1 };
  const z2 = Z_95 ** 2;
  const centre = 2 * successes + z2;
  const spread = Z_95 * Math.sqrt(z2 + (4 * successes * (trials - successes)) / trials);
  const scale = 2 * (trials + z2);
  return {
    lower: successes === 0 ? 0 : (centre - spread) / scale,
    upper: successes === trials ? 1 : (centre + spread) / scale,
  };
}
