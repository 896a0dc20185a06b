/** The few statistics a report needs, on simple-statistics 7.12.1. Over no values each is null, never NaN. */

import { mean as meanOf, quantile, standardDeviation as sdOf } from 'simple-statistics';

/** Arithmetic mean. */
export function mean(values: number[]): number | null {
  return values.length === 0 ? null : meanOf(values);
}

/** Population standard deviation (divisor n): the take is the whole population, not a sample of one. */
export function standardDeviation(values: number[]): number | null {
  return values.length === 0 ? null : sdOf(values);
}

/** Middle value, the mean of the two middle ones when there is an even number. */
export function median(values: number[]): number | null {
  return values.length === 0 ? null : quantile(values, 0.5);
}

/**
 * Least-squares slope of y over x, parallel arrays; null when x does not vary. Our own two sums: the library's
 * regression takes a pair of numbers per point, which costs more than the rest of a long report.
 */
export function slope(x: number[], y: number[]): number | null {
  const centreX = mean(x);
  const centreY = mean(y);
  if (centreX === null || centreY === null) return null;
  let products = 0;
  let squares = 0;
  for (let point = 0; point < x.length; point++) {
    const offX = (x[point] ?? centreX) - centreX;
    products += offX * ((y[point] ?? centreY) - centreY);
    squares += offX * offX;
  }
  return squares === 0 ? null : products / squares;
}
