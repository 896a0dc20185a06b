/** The line under judgement: the course it runs over, the places it passes, and what was played there. */

import type { Course, CourseChord } from './course.ts';
import { type Ledger, ordinalAt } from './ledger.ts';
import type { LinePlaces } from './line-reader.ts';
import type { PaletteView } from './palette-view.ts';

export interface GradedLine {
  readonly course: Course;
  readonly places: LinePlaces;
  readonly ledger: Ledger;
}

/** The chord of an ordinal, which counts through all choruses. */
export function chordOf(course: Course, ordinal: number): CourseChord | undefined {
  return course.chords[ordinal % course.chords.length];
}

/** The chord in force at an entry. */
export function chordAt(line: GradedLine, index: number): CourseChord | undefined {
  return chordOf(line.course, ordinalAt(line.ledger, index));
}

/** The palette in force at an entry; null under `N.C.` */
export function paletteAt(line: GradedLine, index: number): PaletteView | null {
  return chordAt(line, index)?.palette ?? null;
}

/** The palette of the next change after an ordinal. Source: `grading.md`, "Palette", anticipation. */
export function nextPalette(course: Course, ordinal: number): PaletteView | null {
  for (let ahead = 1; ahead <= course.chords.length; ahead++) {
    const chord = chordOf(course, ordinal + ahead);
    if (chord?.boundary === 'change') return chord.palette;
  }
  return null;
}

/** Pitch classes of the new palette of a change alone, and of the old one alone. */
export interface ChangeMasks {
  readonly newMask: number;
  readonly oldMask: number;
}

/** What tells the two palettes of a change apart. Source: `grading.md`, "Changes". */
export function changeMasks(from: PaletteView, to: PaletteView): ChangeMasks {
  return { newMask: to.mask & ~from.mask, oldMask: from.mask & ~to.mask };
}
