/** When the notes of a line come: every slot of the grid, or a rhythm at `free`; read by the grader's own readers. */

import type { Course } from '../grading/course.ts';
import { createFreeLine, TWELFTHS } from '../grading/free-line.ts';
import type { LinePlaces } from '../grading/line-reader.ts';
import type { CompleteSettings } from '../grading/settings.ts';
import { createSlotLine } from '../grading/slot-line.ts';
import { createBeatClock } from '../grid/index.ts';
import type { TakeTempo } from '../take/model.ts';
import { strikeOf } from '../take/strikes.ts';
import type { BeatRhythm } from './rhythm.ts';

/** Lines are laid out at this tempo and kept in beats: nothing the grader asks of notes depends on the tempo. */
export const LAYOUT_TEMPO: TakeTempo = { kind: 'steady', tempoBpm: 60 };

/** The notes a line owes: where each begins, how long it may sound, and how the grader reads its place. */
export interface Onsets {
  readonly places: LinePlaces;
  readonly onsetBeats: readonly number[];
  /** Beats until the key goes up. */
  readonly durationBeats: readonly number[];
  /** Beats of all choruses together. */
  readonly beats: number;
}

/** Share of the time to the next note that a key is held: close to legato, never into the next note. No source. */
export const HELD_SHARE = 0.92;

/** One note for every slot of so many choruses. */
export function slotOnsets(
  course: Course,
  settings: CompleteSettings,
  slots: number,
  beats: number,
): Onsets {
  const clock = createBeatClock(course.form, LAYOUT_TEMPO);
  const places = createSlotLine(course, clock, settings, () => {});
  const onsetBeats = Array.from({ length: slots }, (_, slot) => places.beatsIn(slot));
  const durationBeats = onsetBeats.map(
    (onset, slot) => HELD_SHARE * ((onsetBeats[slot + 1] ?? beats) - onset),
  );
  return { places, onsetBeats, durationBeats, beats };
}

/** The key the places are asked with: which one it is does not matter to them. */
const ANY_KEY = 60;

/** One note for every sound of a rhythm, beat after beat. */
export function rhythmOnsets(
  course: Course,
  settings: CompleteSettings,
  rhythm: readonly BeatRhythm[],
): Onsets {
  const clock = createBeatClock(course.form, LAYOUT_TEMPO);
  const places = createFreeLine(course, clock, settings, () => {});
  const onsetBeats: number[] = [];
  const durationBeats: number[] = [];
  rhythm.forEach((parts, beat) => {
    for (const { at, length, isRest } of parts) {
      if (isRest) continue;
      const onset = beat + at / TWELFTHS;
      places.add(strikeOf(ANY_KEY, 1, clock.timeMs(onset), onsetBeats.length));
      onsetBeats.push(onset);
      durationBeats.push((HELD_SHARE * length) / TWELFTHS);
    }
  });
  return { places, onsetBeats, durationBeats, beats: rhythm.length };
}
