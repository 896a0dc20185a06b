/**
 * How far from the middle a distribution must be followed to hold a share of it: the factors of intervals. Own sums, since
 * the libraries that have them build code from text, which the page's security policy forbids.
 */

/**
 * The z for which the standard normal distribution lies between −z and z with the given share (0 up to but not 1; known to nine
 * decimals up to 1 − 10⁻⁸). Source of the sum: Abramowitz, Stegun, Handbook of Mathematical Functions, 1964, 26.2.11; from
 * memory.
 */
export function normalPoint(share: number): number {
  return bisect(8, (z) => {
    let term = z;
    let sum = z;
    for (let odd = 3; term > Number.EPSILON * sum; odd += 2) {
      term *= (z * z) / odd;
      sum += term;
    }
    return 2 * (Math.exp(-(z * z) / 2) / Math.sqrt(2 * Math.PI)) * sum - share;
  });
}

/**
 * The t for which Student's distribution with so many degrees of freedom (whole, 1 or more) lies between −t and t with the
 * given share (0 up to but not 1). Source of the sums: Abramowitz, Stegun, 26.7.3 and 26.7.4.
 */
export function studentPoint(share: number, freedom: number): number {
  const angle = bisect(Math.PI / 2, (theta) => studentShare(theta, freedom) - share);
  return Math.sqrt(freedom) * Math.tan(angle);
}

/** The share between −t and t, where t is √freedom times the tangent of the angle. */
function studentShare(angle: number, freedom: number): number {
  const isOdd = freedom % 2 === 1;
  const cosine = Math.cos(angle);
  let term = isOdd ? cosine : 1;
  let sum = freedom === 1 ? 0 : term;
  for (let step = isOdd ? 3 : 2; step < freedom; step += 2) {
    term *= ((step - 1) / step) * cosine * cosine;
    sum += term;
  }
  return isOdd ? (2 / Math.PI) * (angle + Math.sin(angle) * sum) : Math.sin(angle) * sum;
}

/** Halvings until a double changes no more. */
const HALVINGS = 60;

/** Where a rising function crosses zero between 0 and a bound. */
function bisect(bound: number, rising: (value: number) => number): number {
  let low = 0;
  let high = bound;
  for (let halving = 0; halving < HALVINGS; halving++) {
    const middle = (low + high) / 2;
    if (rising(middle) < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
