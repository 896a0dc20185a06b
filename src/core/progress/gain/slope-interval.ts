/** A straight line through points, and how sure its slope is. */

import { linearRegression, linearRegressionLine } from 'simple-statistics';
import { studentPoint } from '../central-points.ts';

/** x, then y. */
export type Point = readonly [number, number];

export interface SlopeInterval {
  readonly slope: number;
  /** Bounds of the two-sided 95 % interval. */
  readonly lower: number;
  readonly upper: number;
}

const SHARE = 0.95;

/**
 * Ordinary least squares with Student's interval for the slope on n − 2 degrees of freedom. `leastVariance` is what y
 * is known to scatter by at least, in its own unit squared: points that happen to lie on a line claim no more certainty
 * than that. Null under three points or where x does not vary.
 * Source: N. R. Draper, H. Smith, Applied Regression Analysis, 3rd ed., section 1.4; the least variance is an own rule.
 */
export function slopeInterval(points: readonly Point[], leastVariance = 0): SlopeInterval | null {
  const freedom = points.length - 2;
  const meanX = points.reduce((sum, [x]) => sum + x, 0) / points.length;
  const squares = points.reduce((sum, [x]) => sum + (x - meanX) ** 2, 0);
  if (freedom < 1 || squares === 0) return null;
  const line = linearRegression(points.map(([x, y]) => [x, y]));
  const yOf = linearRegressionLine(line);
  const scatter = points.reduce((sum, [x, y]) => sum + (y - yOf(x)) ** 2, 0) / freedom;
  const error = Math.sqrt(Math.max(scatter, leastVariance) / squares);
  const reach = studentPoint(SHARE, freedom) * error;
  return { slope: line.m, lower: line.m - reach, upper: line.m + reach };
}
