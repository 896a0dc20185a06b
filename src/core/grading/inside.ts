/** Whether a note is in its palette, and what may excuse one that is not. Source: `grading.md`, "Palette". */

import type { Course, CourseChord } from './course.ts';
import { type Ledger, midiAt } from './ledger.ts';
import { hasPc, type PaletteView } from './palette-view.ts';

/** The chord of an ordinal, which counts through all choruses. */
export function chordAt(course: Course, ordinal: number): CourseChord | undefined {
  return course.chords[ordinal % course.chords.length];
}

/** The palette in force at an entry; null under `N.C.` */
export function paletteAt(course: Course, ledger: Ledger, index: number): PaletteView | null {
  return chordAt(course, ledger.entries[index]?.ordinal ?? 0)?.palette ?? null;
}

/**
 * Whether the note at an entry is in its palette; true under `N.C.` In a two-way palette a degree that differs
 * rising and falling takes the direction of the next interval within the chord, else of the previous one; a
 * repeated note has no direction, and a note with none at all passes in either form.
 */
export function isInside(course: Course, ledger: Ledger, index: number): boolean {
  const palette = paletteAt(course, ledger, index);
  const midi = midiAt(ledger, index);
  if (palette === null || midi === null) return true;
  const pc = midi % 12;
  if (hasPc(palette.certainMask, pc)) return true;
  if (!hasPc(palette.mask, pc)) return false;
  const direction = directionAt(ledger, index, midi);
  if (direction === 0) return true;
  return hasPc(direction > 0 ? palette.rising.mask : palette.falling.mask, pc);
}

function directionAt(ledger: Ledger, index: number, midi: number): number {
  const sameChord = ledger.entries[index + 1]?.ordinal === ledger.entries[index]?.ordinal;
  const next = sameChord ? midiAt(ledger, index + 1) : null;
  if (next !== null && next !== midi) return next - midi;
  return midi - (midiAt(ledger, index - 1) ?? midi);
}

/** Whether the note after an entry is a semitone away and inside its own palette. */
export function resolvesBySemitone(course: Course, ledger: Ledger, index: number): boolean {
  return semitoneTo(ledger, index) !== 0 && isInside(course, ledger, index + 1);
}

/** Whether an outside note is a chromatic approach: one or two semitones in one direction into the palette. */
export function isApproach(course: Course, ledger: Ledger, index: number): boolean {
  if (resolvesBySemitone(course, ledger, index)) return true;
  const step = semitoneTo(ledger, index);
  return (
    step !== 0 && semitoneTo(ledger, index + 1) === step && isInside(course, ledger, index + 2)
  );
}

/** 1 or −1 when the next entry's note lies a semitone above or below, else 0. */
function semitoneTo(ledger: Ledger, index: number): number {
  const midi = midiAt(ledger, index);
  const next = midiAt(ledger, index + 1);
  if (midi === null || next === null) return 0;
  return Math.abs(next - midi) === 1 ? next - midi : 0;
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
  const midi = midiAt(ledger, index);
  const palette = paletteAt(course, ledger, index);
  return midi !== null && palette !== null && !hasPc(palette.certainMask, midi % 12);
}
