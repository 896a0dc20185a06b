/** Whether a note is in its palette, and what may excuse one that is not. Source: `grading.md`, "Palette". */

import type { Course } from './course.ts';
import { type Ledger, NO_NOTE } from './ledger.ts';
import { hasPc } from './palette-view.ts';

/** The chord an entry stands under. */
export function chordAt(course: Course, ordinal: number) {
  return course.chords[ordinal % course.chords.length];
}

/**
 * Whether the note at an entry is in its palette; true under `N.C.` In a two-way palette a degree that differs
 * rising and falling takes the direction of the next interval within the chord, else of the previous one; a
 * repeated note has no direction, and a note with none at all passes in either form.
 */
export function isInside(course: Course, ledger: Ledger, index: number): boolean {
  const midi = ledger.midi[index] ?? NO_NOTE;
  const ordinal = ledger.ordinal[index] ?? 0;
  const palette = chordAt(course, ordinal)?.palette ?? null;
  if (palette === null) return true;
  const pc = midi % 12;
  if (hasPc(palette.certainMask, pc)) return true;
  if (!hasPc(palette.mask, pc)) return false;
  const next =
    ledger.ordinal[index + 1] === ordinal ? (ledger.midi[index + 1] ?? NO_NOTE) : NO_NOTE;
  const previous = ledger.midi[index - 1] ?? NO_NOTE;
  const direction =
    next !== NO_NOTE && next !== midi ? next - midi : previous !== NO_NOTE ? midi - previous : 0;
  if (direction === 0) return true;
  return hasPc(direction > 0 ? palette.rising.mask : palette.falling.mask, pc);
}

/** Whether the note after an entry is a semitone away and inside its own palette. */
export function resolvesBySemitone(course: Course, ledger: Ledger, index: number): boolean {
  const next = ledger.midi[index + 1] ?? NO_NOTE;
  return (
    next !== NO_NOTE &&
    Math.abs(next - (ledger.midi[index] ?? NO_NOTE)) === 1 &&
    isInside(course, ledger, index + 1)
  );
}

/** Whether an outside note is a chromatic approach: one or two semitones in one direction into the palette. */
export function isApproach(course: Course, ledger: Ledger, index: number): boolean {
  if (resolvesBySemitone(course, ledger, index)) return true;
  const midi = ledger.midi[index] ?? NO_NOTE;
  const next = ledger.midi[index + 1] ?? NO_NOTE;
  const target = ledger.midi[index + 2] ?? NO_NOTE;
  const step = next - midi;
  if (next === NO_NOTE || target === NO_NOTE || Math.abs(step) !== 1) return false;
  return target - next === step && isInside(course, ledger, index + 2);
}

/**
 * How many entries after this one its verdict can depend on: none for a note that is inside either way, up to
 * three for two outside notes before one whose direction decides.
 */
export function lookahead(course: Course, ledger: Ledger, index: number): number {
  let depth = 0;
  while (depth < 3 && isUncertain(course, ledger, index + depth)) depth++;
  return depth;
}

function isUncertain(course: Course, ledger: Ledger, index: number): boolean {
  const midi = ledger.midi[index] ?? NO_NOTE;
  if (midi === NO_NOTE) return false;
  const palette = chordAt(course, ledger.ordinal[index] ?? 0)?.palette ?? null;
  return palette !== null && !hasPc(palette.certainMask, midi % 12);
}
