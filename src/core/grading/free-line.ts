/** The line at `free`: every note is an entry, and belongs to the chord at the nearest twelfth of a beat. */

import type { BeatClock } from '../grid/beat-clock.ts';
import { createSlotGrid } from '../grid/slot-grid.ts';
import type { Strike } from '../take/strikes.ts';
import type { Course } from './course.ts';
import type { EntryListener, LineReader } from './line-reader.ts';
import type { CompleteSettings } from './settings.ts';

/** Places per beat at which a free note is read: the common refinement of triplets and sixteenths. */
export const TWELFTHS = 12;

const NONE: readonly Strike[] = Object.freeze([]);

/**
 * Reads strikes note by note, up to the planned end. A note's cell, which a break may touch, is its twelfth: own rule.
 * Source: `grading.md`, "Level `free`".
 */
export function createFreeLine(
  course: Course,
  clock: BeatClock,
  settings: CompleteSettings,
  emit: EntryListener,
): LineReader {
  const grid = createSlotGrid(course.form, clock, settings);
  /** What is known of each note: its twelfth of a beat, counted through the take, and the entries since a change. */
  const twelfths: number[] = [];
  const sinceChanges: (number | null)[] = [];
  const endTwelfth =
    settings.choruses === null
      ? Number.POSITIVE_INFINITY
      : settings.choruses * grid.beatsPerChorus * TWELFTHS;
  let changeOrdinal: number | null = null;
  let sinceChange: number | null = null;
  let lastOrdinal = 0;

  const slotsInBeat = grid.slots[0]?.slotsInBeat ?? 1;

  function beatOf(index: number): number {
    return (twelfths[index] ?? 0) / TWELFTHS;
  }

  function twelfthAt(onsetMs: number): number | null {
    // Adding 0 turns the −0 of a slightly early downbeat into 0, which JSON keeps.
    const twelfth = Math.round(clock.beatAt(onsetMs) * TWELFTHS) + 0;
    return twelfth < 0 || twelfth >= endTwelfth ? null : twelfth;
  }

  function ordinalAt(beat: number): number {
    const chorus = Math.floor(beat / grid.beatsPerChorus);
    return chorus * course.chords.length + grid.chordAt(beat - chorus * grid.beatsPerChorus);
  }

  function isChange(ordinal: number): boolean {
    return ordinal > 0 && course.chords[ordinal % course.chords.length]?.boundary === 'change';
  }

  function countSinceChange(ordinal: number): void {
    for (let passed = lastOrdinal + 1; passed <= ordinal; passed++) {
      if (isChange(passed)) changeOrdinal = passed;
    }
    if (changeOrdinal !== null && changeOrdinal > lastOrdinal) sinceChange = 0;
    else if (sinceChange !== null) sinceChange++;
    lastOrdinal = ordinal;
  }

  return {
    add(strike) {
      const twelfth = twelfthAt(strike.onsetMs);
      if (twelfth === null) return;
      countSinceChange(ordinalAt(twelfth / TWELFTHS));
      twelfths.push(twelfth);
      sinceChanges.push(sinceChange);
      emit(twelfths.length - 1, strike, NONE, strike.doubles.length > 0 ? [strike] : NONE);
    },
    advance() {},
    end() {},
    nominalMs: (index) => clock.timeMs(beatOf(index)),
    toleranceMs: () => null,
    ordinal: (index) => ordinalAt(beatOf(index)),
    sinceChange: (index) => sinceChanges[index] ?? null,
    beforeChange(index) {
      const beat = beatOf(index);
      return crossesChange(ordinalAt(beat), ordinalAt(beat + 1 / slotsInBeat));
    },
    placeOf(index) {
      const beatsIn = beatOf(index);
      const beat = Math.floor(beatsIn);
      const at = grid.beats[beat % grid.beatsPerChorus];
      return {
        bar: course.form.bars[at?.barIndex ?? 0]?.bar ?? 1,
        beat: at?.beat ?? 1,
        sub: Math.round((beatsIn - beat) * TWELFTHS),
      };
    },
    chorusOf: (index) => Math.floor(beatOf(index) / grid.beatsPerChorus) + 1,
    beatsIn: beatOf,
    preview(onsetMs) {
      const twelfth = twelfthAt(onsetMs);
      if (twelfth === null) return null;
      const beat = twelfth / TWELFTHS;
      return {
        index: twelfths.length,
        isClosing: false,
        ordinal: ordinalAt(beat),
        nominalMs: clock.timeMs(beat),
        toleranceMs: null,
      };
    },
    cell: (index) => ({
      fromMs: clock.timeMs(beatOf(index) - 0.5 / TWELFTHS),
      toMs: clock.timeMs(beatOf(index) + 0.5 / TWELFTHS),
    }),
    closing: () => null,
    unplayedAfter: () => 0,
  };

  function crossesChange(from: number, to: number): boolean {
    for (let passed = from + 1; passed <= to; passed++) if (isChange(passed)) return true;
    return false;
  }
}
