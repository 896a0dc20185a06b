/** What chromatic approaches are called: by the note they lead to, from below or from above. */

import { spellApproach } from '../theory/index.ts';
import type { CourseChord } from './course.ts';
import { hasPc } from './palette-view.ts';

export interface PlayedNote {
  readonly midi: number;
  readonly chord: CourseChord;
}

/** Whether a note is in neither form of its chord's palette. */
export function isChromatic({ midi, chord: { palette } }: PlayedNote): boolean {
  return palette !== null && !hasPc(palette.mask, midi % 12);
}

/**
 * The name of a chromatic approach with its octave. In: the note, the one a semitone away that it leads to, and the one
 * after that, to which the second of two approaches leads; null where there is none.
 */
export function approachName(note: PlayedNote, next: PlayedNote, after: PlayedNote | null): string {
  const isFirstOfTwo =
    after !== null && isChromatic(next) && after.midi - next.midi === next.midi - note.midi;
  const nextName = isFirstOfTwo
    ? spellApproach(next.midi, after.midi, after.chord.spell(after.midi))
    : next.chord.spell(next.midi);
  return spellApproach(note.midi, next.midi, nextName);
}
