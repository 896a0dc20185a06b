/** The line under judgement: the course it runs over, the places it passes, and what was played there. */

import type { Course, CourseChord } from './course.ts';
import type { Ledger } from './ledger.ts';
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
  return chordOf(line.course, line.places.ordinal(index));
}

/** The palette in force at an entry; null under `N.C.` */
export function paletteAt(line: GradedLine, index: number): PaletteView | null {
  return chordAt(line, index)?.palette ?? null;
}
