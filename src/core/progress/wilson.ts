/** Confidence in a rate from a count. */

import { normalPoint } from './central-points.ts';

/** The 97.5 % point of the standard normal distribution, for two-sided 95 % intervals. */
export const Z_95 = 1.959963984540054;

/**
 * The point for intervals of which `many` (1 or more) hold together with 95 %, so that the most striking of them may be
 * picked out. Source: Bonferroni's inequality; R. G. Miller, Simultaneous Statistical Inference, 2nd ed., 1981, section 1.3; from
 * memory.
 */
export function zTogether(many: number): number {
  return normalPoint(1 - 0.05 / Math.max(1, many));
}

export interface RateInterval {
  readonly lower: number;
  readonly upper: number;
}

/**
 * The Wilson score interval, without continuity correction, of `successes` out of `trials` (0 ≤ successes ≤ trials,
 * whole or, of an effective sample size, not); at 95 % unless another point of the standard normal distribution is given.
 * Nothing tried tells nothing: 0 of 0 gives 0 to 1.
 * Source: E. B. Wilson, JASA 22 (1927), 209–212; R. G. Newcombe, Statistics in Medicine 17 (1998), method 3.
 */
export function wilsonInterval(successes: number, trials: number, z = Z_95): RateInterval {
  if (trials === 0) return { lower: 0, upper: 1 };
  const z2 = z ** 2;
  const centre = 2 * successes + z2;
  const spread = z * Math.sqrt(z2 + (4 * successes * (trials - successes)) / trials);
  const scale = 2 * (trials + z2);
  return {
    lower: successes === 0 ? 0 : (centre - spread) / scale,
    upper: successes === trials ? 1 : (centre + spread) / scale,
  };
}
