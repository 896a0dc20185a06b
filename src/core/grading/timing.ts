/** Whether an onset is in time. */

import type { TimingFault } from '../words.ts';
import { RESOLUTION_MS } from './resolution.ts';

/** The tolerance never falls below this, however fast the tempo. Source: `grading.md`, "Faults of a slot". */
export const LEAST_TOLERANCE_MS = 40;
/** Share of an even slot's length that an onset may lie off. Source: same. */
export const TOLERANCE_SHARE = 0.15;

/** The tolerance for a slot: max(40 ms, 0.15 × beat length / slots per beat), or the fixed one if not null. */
export function slotToleranceMs(
  beatMs: number,
  slotsPerBeat: number,
  fixedMs: number | null,
): number {
  return fixedMs ?? Math.max(LEAST_TOLERANCE_MS, (TOLERANCE_SHARE * beatMs) / slotsPerBeat);
}

/**
 * Tells whether a deviation (onset minus nominal, ms) misses its slot, and on which side; null if in time.
 * Edge: exactly at the tolerance is in time. Source: `grading.md`, "Faults of a slot".
 */
export function timingFault(deviationMs: number, toleranceMs: number): TimingFault | null {
  if (deviationMs > toleranceMs + RESOLUTION_MS) return 'late';
  if (deviationMs < -toleranceMs - RESOLUTION_MS) return 'early';
  return null;
}
