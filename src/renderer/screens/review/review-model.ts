/** From a report to what the review screen draws. Pure. */

import type { Report } from '../../../core/grading/index.ts';

/** A bar under this clean rate gets the full tint. Own choice. */
const WORST_RATE = 0.5;

/** How strongly a bar is tinted: 0 where all of it was clean, 1 where half or less was; null for one not played. */
export function breakStrength(cleanRate: number | null): number | null {
  return cleanRate === null ? null : Math.min(1, (1 - cleanRate) / (1 - WORST_RATE));
}

/** The choruses that were begun, from 1. */
export function chorusesOf(report: Report): readonly number[] {
  const last = report.slots.at(-1)?.chorus ?? 1;
  return Array.from({ length: last }, (_, index) => index + 1);
}

export interface TimingPoint {
  /** Share of the take, 0–1. */
  readonly x: number;
  /** Share of the plot's height from the top: 0.5 is on the grid, early is up. */
  readonly y: number;
  readonly isFault: boolean;
  readonly chorus: number;
  readonly bar: number;
}

/** Deviations of all notes as points of a plot that spans `spanMs` either way; what lies further sits at its edge. */
export function timingPoints(report: Report, spanMs: number): readonly TimingPoint[] {
  const endMs = report.slots.at(-1)?.nominalMs ?? 1;
  return report.slots.flatMap(({ note, nominalMs, faults, chorus, bar }) => {
    if (note === null) return [];
    const share = Math.max(-1, Math.min(1, note.deviationMs / spanMs));
    const isFault = faults.includes('early') || faults.includes('late');
    return [{ x: nominalMs / Math.max(endMs, 1), y: 0.5 + share / 2, isFault, chorus, bar }];
  });
}
