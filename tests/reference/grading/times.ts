/** Times compared as the ear would: `grading.md` leaves open what floating-point beats do at an edge. */

/** Sums of floating-point beats are told apart no finer than a millionth of a millisecond. */
export function isAtLeast(ms: number, edgeMs: number): boolean {
  return Math.round((ms - edgeMs) * 1e6) >= 0;
}
