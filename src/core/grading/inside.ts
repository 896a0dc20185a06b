/** Whether a note is in its palette, and what may excuse one that is not. Source: `grading.md`, "Palette". */

import { type GradedLine, paletteAt } from './graded-line.ts';
import { midiAt, ordinalAt } from './ledger.ts';
import { hasPc } from './palette-view.ts';

/**
 * Whether the note at an entry is in its palette; true under `N.C.` In a two-way palette a degree that differs
 * rising and falling takes the direction of the next interval within the chord, else of the previous one; a
 * repeated note has no direction, and a note with none at all passes in either form.
 */
export function isInside(line: GradedLine, index: number): boolean {
  const palette = paletteAt(line, index);
  const midi = midiAt(line.ledger, index);
  if (palette === null || midi === null) return true;
  const pc = midi % 12;
  if (hasPc(palette.certainMask, pc)) return true;
  if (!hasPc(palette.mask, pc)) return false;
  const direction = directionAt(line, index, midi);
  if (direction === 0) return true;
  return hasPc(direction > 0 ? palette.rising.mask : palette.falling.mask, pc);
}

function directionAt({ ledger }: GradedLine, index: number, midi: number): number {
  const next = midiAt(ledger, index + 1);
  const isSameChord = next !== null && ordinalAt(ledger, index + 1) === ordinalAt(ledger, index);
  if (isSameChord && next !== midi) return next - midi;
  return midi - (midiAt(ledger, index - 1) ?? midi);
}

/** Whether the note after an entry is a semitone away and inside its own palette. */
export function resolvesBySemitone(line: GradedLine, index: number): boolean {
  return semitoneTo(line, index) !== 0 && isInside(line, index + 1);
}

/** Whether an outside note is a chromatic approach: one or two semitones in one direction into the palette. */
export function isApproach(line: GradedLine, index: number): boolean {
  if (resolvesBySemitone(line, index)) return true;
  const step = semitoneTo(line, index);
  return step !== 0 && semitoneTo(line, index + 1) === step && isInside(line, index + 2);
}

/** 1 or −1 when the next entry's note lies a semitone above or below, else 0. */
function semitoneTo({ ledger }: GradedLine, index: number): number {
  const midi = midiAt(ledger, index);
  const next = midiAt(ledger, index + 1);
  if (midi === null || next === null) return 0;
  return Math.abs(next - midi) === 1 ? next - midi : 0;
}

/**
 * How many entries after this one its verdict can depend on: none for a note that is inside either way, up to
 * three for two outside notes before one whose direction decides.
 */
export function lookahead(line: GradedLine, index: number): number {
  let depth = 0;
  while (depth < 3 && isUncertain(line, index + depth)) depth++;
  return depth;
}

function isUncertain(line: GradedLine, index: number): boolean {
  const midi = midiAt(line.ledger, index);
  if (midi === null) return false;
  const palette = paletteAt(line, index);
  return palette !== null && !hasPc(palette.certainMask, midi % 12);
}
