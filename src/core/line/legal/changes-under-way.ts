/** Which change of palette each note of a line is read for. Source: `grading.md`, "Changes". */

import type { Course } from '../../grading/course.ts';
import { type ChangeMasks, changeMasks, chordOf } from '../../grading/graded-line.ts';

/** A change that has begun and is not yet followed by another, nor ended by `N.C.`. */
export type ChangeUnderWay = ChangeMasks;

/**
 * The change under way at each note of a line, null where none is; the same object from its first note to its last.
 * In: the chord in force at each note, counted through all choruses, never going back.
 */
export function changesUnderWay(
  course: Course,
  ordinals: readonly number[],
): readonly (ChangeUnderWay | null)[] {
  let passed = 0;
  let change: ChangeUnderWay | null = null;
  return ordinals.map((reached) => {
    while (passed < reached) change = passBoundary(course, ++passed, change);
    return change;
  });
}

function passBoundary(
  course: Course,
  ordinal: number,
  before: ChangeUnderWay | null,
): ChangeUnderWay | null {
  const to = chordOf(course, ordinal);
  const from = chordOf(course, ordinal - 1);
  // Without a chord the old change can no longer show.
  if (!to?.palette) return null;
  if (to.boundary !== 'change' || !from?.palette) return before;
  return changeMasks(from.palette, to.palette);
}
