/** The few statistics a report needs, on `simple-statistics`. Over no values each is null, never NaN. */

import {
  linearRegression,
  mean as meanOf,
  quantile,
  standardDeviation as sdOf,
} from 'simple-statistics';

/** Arithmetic mean. */
export function mean(values: readonly number[]): number | null {
  return values.length === 0 ? null : meanOf([...values]);
}

/** Population standard deviation (divisor n): the take is the whole population, not a sample of one. */
export function standardDeviation(values: readonly number[]): number | null {
  return values.length === 0 ? null : sdOf([...values]);
}

/** Middle value, the mean of the two middle ones when there is an even number. */
export function median(values: readonly number[]): number | null {
  return values.length === 0 ? null : quantile([...values], 0.5);
}

/** Least-squares slope of points (x, y); null when x does not vary. */
export function slope(points: readonly (readonly [number, number])[]): number | null {
  const first = points[0];
  if (first === undefined || points.every(([x]) => x === first[0])) return null;
  return linearRegression(points.map(([x, y]) => [x, y])).m;
}
