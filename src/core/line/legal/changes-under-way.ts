/** Which change of palette each note of a line is read for. Source: `grading.md`, "Changes". */

import type { Course } from '../../grading/course.ts';
import { chordOf } from '../../grading/graded-line.ts';

/** A change that has begun and is not yet followed by another, nor ended by `N.C.`. */
export interface ChangeUnderWay {
  /** Pitch classes of the new palette alone, and of the old one alone. */
  readonly newMask: number;
  readonly oldMask: number;
}

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
  return {
    newMask: to.palette.mask & ~from.palette.mask,
    oldMask: from.palette.mask & ~to.palette.mask,
  };
}
