/** A swing or an offset that a player holds throughout. Source: `grading.md`, "Steady swing and offset". */

import type { Report, ReportSlot } from '../report.ts';
import { median } from '../statistics.ts';
import { slotToleranceMs } from '../timing.ts';
import type { Ground } from './ground.ts';
import type { TimingValue } from './model.ts';

const LEAST_BEATS = 16;
/** The median ratio differs from the swing set by more than this … */
const SWING_DIFFERENCE = 0.25;
/** … and half of the ratios lie no further from it than this. */
const SWING_SPREAD = 0.35;
const LEAST_NOTES = 32;
const LEAST_OFFSET_MS = 20;
/** From a median absolute deviation to the standard deviation of a normal spread. */
const MAD_TO_SD = 1.4826;
/** Comparisons of ratios and shares that adding floating-point times must not decide. */
const RESOLUTION = 1e-9;

/** What a swing or a latency may be set to, on the screens and by the command. */
const SWING_RANGE = [1, 4] as const;
const LATENCY_RANGE_MS = [-500, 1000] as const;

export interface Steady {
  /** Long : short, to a hundredth; null when there is none that differs from the one set. */
  readonly swing: number | null;
  /** Positive is late, in whole ms. */
  readonly offsetMs: number | null;
}

export const NOT_STEADY: Steady = Object.freeze({ swing: null, offsetMs: null });

/** What holds in a graded take, whether or not it leaves fewer faults. At `free` nothing does: rhythm is not judged. */
export function measureSteady(ground: Ground): Steady {
  const { base, complete } = ground;
  if (complete.level === 'free') return NOT_STEADY;
  const swing = steadySwing(base, complete.swing);
  return { swing, offsetMs: steadyOffsetMs(ground, swing !== null) };
}

/** The settings that go with what holds; null when nothing does. */
export function timingValue({ swing, offsetMs }: Steady, ground: Ground): TimingValue | null {
  if (swing === null && offsetMs === null) return null;
  const { latencyMs } = ground.keyboards.main;
  return { swing: swing ?? ground.base.swing, latencyMs: latencyMs + (offsetMs ?? 0) };
}

function steadySwing({ slots }: Report, swingSet: number): number | null {
  const ratios = slots.flatMap((slot, index) =>
    swingRatio(slot, slots[index + 1], slots[index + 2]),
  );
  const middle = median(ratios);
  if (middle === null || ratios.length < LEAST_BEATS) return null;
  const swing = within(middle, SWING_RANGE);
  const near = ratios.filter((ratio) => Math.abs(ratio - middle) <= SWING_SPREAD + RESOLUTION);
  const differs = Math.abs(swing - swingSet) > SWING_DIFFERENCE + RESOLUTION;
  return differs && near.length * 2 >= ratios.length ? Math.round(swing * 100) / 100 : null;
}

/** Of a beat of two slots that are both filled, as is the next beat's first. */
function swingRatio(
  on: ReportSlot,
  off: ReportSlot | undefined,
  next: ReportSlot | undefined,
): readonly number[] {
  if (on.sub !== 0 || off?.sub !== 1 || next?.sub !== 0) return [];
  if (on.note === null || off.note === null || next.note === null) return [];
  if (!on.judged || !off.judged || !next.judged) return [];
  const longMs = off.note.onsetMs - on.note.onsetMs;
  return [longMs / (next.note.onsetMs - off.note.onsetMs)];
}

function steadyOffsetMs(
  { base, complete, axis, keyboards }: Ground,
  onBeatsOnly: boolean,
): number | null {
  const { grid } = axis;
  const deviationsMs: number[] = [];
  const tolerancesMs: number[] = [];
  for (const { index, sub, note, judged } of base.slots) {
    if (note === null || !judged || (onBeatsOnly && sub !== 0)) continue;
    const slotsInBeat = grid.slots[index % grid.slotsPerChorus]?.slotsInBeat ?? 1;
    deviationsMs.push(note.deviationMs);
    tolerancesMs.push(slotToleranceMs(grid.beatMs(index), slotsInBeat, complete.toleranceMs));
  }
  const middleMs = median(deviationsMs);
  // Sixteen notes on beats are enough, and a steady swing has them.
  const isEnough = onBeatsOnly || deviationsMs.length >= LEAST_NOTES;
  if (middleMs === null || !isEnough) return null;
  const beyondMs = Math.max(LEAST_OFFSET_MS, (median(tolerancesMs) ?? 0) / 2);
  const spreadMs = median(deviationsMs.map((deviation) => Math.abs(deviation - middleMs))) ?? 0;
  const isSteady =
    Math.abs(middleMs) > beyondMs + RESOLUTION &&
    MAD_TO_SD * spreadMs <= Math.abs(middleMs) / 2 + RESOLUTION;
  const offsetMs = Math.round(middleMs);
  const latencyMs = keyboards.main.latencyMs + offsetMs;
  return isSteady && latencyMs === within(latencyMs, LATENCY_RANGE_MS) ? offsetMs : null;
}

function within(value: number, [least, most]: readonly [number, number]): number {
  return Math.min(most, Math.max(least, value));
}
