/** The few statistics a report needs. Over no values each is null. Sources: standard definitions. */

/** Arithmetic mean. */
export function mean(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  let sum = 0;
  for (const value of values) sum += value;
  return sum / values.length;
}

/** Population standard deviation (divisor n): the take is the whole population, not a sample of one. */
export function standardDeviation(values: readonly number[]): number | null {
  const centre = mean(values);
  if (centre === null) return null;
  let squares = 0;
  for (const value of values) squares += (value - centre) ** 2;
  return Math.sqrt(squares / values.length);
}

/** Middle value, the mean of the two middle ones when there is an even number. */
export function median(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  const upper = sorted[middle] ?? 0;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? 0) + upper) / 2;
}

/** Least-squares slope of y over x; null when x does not vary. Arrays are parallel. */
export function slope(x: readonly number[], y: readonly number[]): number | null {
  const centreX = mean(x);
  const centreY = mean(y);
  if (centreX === null || centreY === null) return null;
  let products = 0;
  let squares = 0;
  x.forEach((value, index) => {
    products += (value - centreX) * ((y[index] ?? 0) - centreY);
    squares += (value - centreX) ** 2;
  });
  return squares === 0 ? null : products / squares;
}
