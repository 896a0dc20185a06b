/** The line-up allowance along a line: once per change, the first that needs it. Source: `grading.md`, "Intervals". */

import type { LineEntry } from './entries.ts';
import { TAKEN } from './state.ts';

/** What is taken of the allowances an entry may ask for, before it asks; from what was taken at the entry before. */
export function takenBefore({ sinceChange }: LineEntry, takenAtPrevious: number): number {
  if (sinceChange === 0) return (takenAtPrevious & TAKEN.coming) === 0 ? 0 : TAKEN.passed;
  return sinceChange === 1 ? takenAtPrevious & TAKEN.passed : 0;
}

/** Takes an allowance, the earlier change's first; null when the entry stands by no change or all are taken. */
export function takeLineUp({ sinceChange, beforeChange }: LineEntry, taken: number): number | null {
  const passed = sinceChange === 0 || sinceChange === 1;
  if (passed && (taken & TAKEN.passed) === 0) return taken | TAKEN.passed;
  if (beforeChange && (taken & TAKEN.coming) === 0) return taken | TAKEN.coming;
  return null;
}
