/** The provisional verdict on a key that has just gone down, before anything after it is known. */

import type { Fault } from '../words.ts';
import type { Course } from './course.ts';
import { chordOf } from './graded-line.ts';
import { judgeInterval } from './interval.ts';
import type { Preview } from './line-reader.ts';
import { hasPc } from './palette-view.ts';
import type { CompleteSettings } from './settings.ts';
import { timingFault } from './timing.ts';

/** A note as heard: the slot it seems to fill and the faults it seems to have. The settled verdict may differ. */
export interface HeardNote {
  readonly slot: number;
  readonly midi: number;
  readonly name: string;
  readonly onsetMs: number;
  readonly deviationMs: number;
  readonly faults: readonly Fault[];
  /** Whether it lies where the closing note does, after the planned end: then it is no slot and has no faults. */
  readonly isClosing: boolean;
}

/**
 * Judges a note by itself and by the note heard before it. What a later note could still excuse (an approach,
 * the line-up allowance) or forbid (a two-way palette's direction) is left to the settled verdict.
 */
export function hearNote(
  course: Course,
  settings: CompleteSettings,
  place: Preview,
  midi: number,
  onsetMs: number,
  before: HeardNote | null,
): HeardNote {
  if (place.isClosing) {
    const name = course.next?.spell(midi) ?? '';
    const deviationMs = onsetMs - place.nominalMs;
    return { slot: place.index, midi, name, onsetMs, deviationMs, faults: [], isClosing: true };
  }
  const chord = chordOf(course, place.ordinal);
  const palette = chord?.palette ?? null;
  const deviationMs = onsetMs - place.nominalMs;
  const faults: Fault[] = [];
  if (place.toleranceMs !== null) {
    const timing = timingFault(deviationMs, place.toleranceMs);
    if (timing !== null) faults.push(timing);
  }
  if (palette !== null && !hasPc(palette.mask, midi % 12)) faults.push('outside');
  if (before !== null && before.slot === place.index - 1) {
    const { level, repeats } = settings;
    if (judgeInterval(before.midi, midi, palette, level, repeats) !== 'open')
      faults.push('interval');
  }
  const name = chord?.spell(midi) ?? '';
  return { slot: place.index, midi, name, onsetMs, deviationMs, faults, isClosing: false };
}
