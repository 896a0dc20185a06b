/** What each note of a line to be written stands under: its chord, its palette, and what the grader asks there. */

import type { Course, CourseChord } from '../../grading/course.ts';
import { chordOf, nextPalette } from '../../grading/graded-line.ts';
import type { EntryPlace, LinePlaces } from '../../grading/line-reader.ts';
import type { PaletteView } from '../../grading/palette-view.ts';
import { type ChangeUnderWay, changesUnderWay } from './changes-under-way.ts';

export interface LineEntry {
  readonly place: EntryPlace;
  /** From 1. */
  readonly chorus: number;
  /** Position through the whole line in beats, from 0. */
  readonly beatsIn: number;
  /** The chord in force, counted through all choruses from 0. */
  readonly ordinal: number;
  readonly chord: CourseChord;
  /** Null under `N.C.` */
  readonly palette: PaletteView | null;
  readonly isLast: boolean;
  /** Whether the next note stands over the same chord: then it decides the direction of a two-way palette. */
  readonly chordGoesOn: boolean;
  /** Notes since the last change, from 0; null before the first. */
  readonly sinceChange: number | null;
  readonly beforeChange: boolean;
  /** The palette a note here may already belong to, or null. */
  readonly upcoming: PaletteView | null;
  readonly change: ChangeUnderWay | null;
  readonly opensChange: boolean;
  readonly closesChange: boolean;
}

/**
 * Lays out the notes of a line. In: the course, the grader's own reading of the places, how many notes there are,
 * and whether a note may anticipate the next palette.
 */
export function layEntries(
  course: Course,
  places: LinePlaces,
  count: number,
  anticipates: boolean,
): readonly LineEntry[] {
  const ordinals = Array.from({ length: count }, (_, index) => places.ordinal(index));
  const changes = changesUnderWay(course, ordinals);
  return ordinals.flatMap((ordinal, index): LineEntry[] => {
    const chord = chordOf(course, ordinal);
    if (chord === undefined) return [];
    const change = changes[index] ?? null;
    const beforeChange = places.beforeChange(index);
    return [
      {
        place: places.placeOf(index),
        chorus: places.chorusOf(index),
        beatsIn: places.beatsIn(index),
        ordinal,
        chord,
        palette: chord.palette,
        isLast: index === count - 1,
        chordGoesOn: ordinals[index + 1] === ordinal,
        sinceChange: places.sinceChange(index),
        beforeChange,
        upcoming: anticipates && beforeChange ? nextPalette(course, ordinal) : null,
        change,
        opensChange: change !== null && changes[index - 1] !== change,
        closesChange: change !== null && changes[index + 1] !== change,
      },
    ];
  });
}
