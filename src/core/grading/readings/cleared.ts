/**
 * What another reading clears: faults and changes not on time before, less those after, over the slots judged either way. Source:
 * `grading.md`, "Other readings". Each fault of a slot is one, and each change.
 */

import { STRIKE_WINDOW_MS } from '../../take/strikes.ts';
import type { Fault } from '../../words.ts';
import type { Report, ReportChange } from '../report.ts';
import { type SlotShift, shiftedSlot } from './shift.ts';

export interface Cleared {
  readonly clears: number;
  /** How many there were. */
  readonly of: number;
}

/** A reading is given when it clears at least this many … */
export const LEAST_CLEARED = 8;
/** … and at least this share. */
export const SHARE_CLEARED = 0.5;

export function isGiven({ clears, of }: Cleared): boolean {
  return clears >= LEAST_CLEARED && clears >= SHARE_CLEARED * of;
}

/** Whether a change counts against the take. */
export function isNotOnTime({ arrival }: ReportChange): boolean {
  return arrival === 'late' || arrival === 'unproven';
}

/** Which entries of two reports on one take are judged in both. */
export interface Common {
  hasBefore(index: number): boolean;
  hasAfter(index: number): boolean;
}

/** By the slots, the later report's being moved; at `free` by the onsets, since there each note is an entry of its own. */
export function commonEntries(
  before: Report,
  after: Report,
  shift: SlotShift,
  moveMs: (timeMs: number) => number,
): Common {
  return before.level === 'free'
    ? commonOnsets(before, after, moveMs)
    : commonSlots(before, after, shift);
}

function commonSlots(before: Report, after: Report, shift: SlotShift): Common {
  const afterward = new Set<number>();
  const first = new Set<number>();
  for (const { index, judged } of before.slots) {
    const moved = shiftedSlot(shift, index);
    if (!judged || after.slots[moved]?.judged !== true) continue;
    first.add(index);
    afterward.add(moved);
  }
  return { hasBefore: (index) => first.has(index), hasAfter: (index) => afterward.has(index) };
}

function commonOnsets(before: Report, after: Report, moveMs: (timeMs: number) => number): Common {
  const first = new Set<number>();
  const afterward = new Set<number>();
  let other = 0;
  for (const { index, note, judged } of before.slots) {
    if (note === null || !judged) continue;
    const atMs = moveMs(note.onsetMs);
    while ((after.slots[other]?.note?.onsetMs ?? atMs) < atMs - STRIKE_WINDOW_MS) other++;
    const found = after.slots[other]?.judged ? after.slots[other]?.note : null;
    if (!found || found.onsetMs > atMs + STRIKE_WINDOW_MS) continue;
    first.add(index);
    afterward.add(other);
  }
  return { hasBefore: (index) => first.has(index), hasAfter: (index) => afterward.has(index) };
}

/** What goes from the first report to the second. */
export function clearedBy(before: Report, after: Report, common: Common): Cleared {
  const of = misses(before, common.hasBefore);
  return { of, clears: of - misses(after, common.hasAfter) };
}

/** Faults and changes not on time, of the entries that are in. */
export function misses({ slots, changes }: Report, isIn: (index: number) => boolean): number {
  let count = 0;
  for (const { index, faults } of slots) if (isIn(index)) count += faults.length;
  for (const change of changes) if (isNotOnTime(change) && isIn(change.slot)) count++;
  return count;
}

/** How many slots have one of these faults, of those that are in. */
export function faultCount(
  { slots }: Report,
  wanted: readonly Fault[],
  isIn: (index: number) => boolean,
): number {
  let count = 0;
  for (const { index, faults } of slots) {
    if (isIn(index)) for (const fault of faults) if (wanted.includes(fault)) count++;
  }
  return count;
}
