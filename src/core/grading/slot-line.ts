/** The line at the slot levels: every slot of the grid is an entry, filled or not. */

import type { BeatClock } from '../grid/beat-clock.ts';
import { createSlotGrid, type SlotGrid } from '../grid/slot-grid.ts';
import type { Strike } from '../take/strikes.ts';
import { createAlignment } from './alignment.ts';
import type { Course } from './course.ts';
import type { ClosingStrike, EntryListener, EntryPlace, LineReader } from './line-reader.ts';
import type { CompleteSettings } from './settings.ts';
import { slotToleranceMs } from './timing.ts';

const FIRST_PLACE: EntryPlace = { bar: 1, beat: 1, sub: 0 };

/** Reads strikes slot by slot. Source: `grading.md`, "Slots and onsets". */
export function createSlotLine(
  course: Course,
  clock: BeatClock,
  settings: CompleteSettings,
  emit: EntryListener,
): LineReader {
  const grid = createSlotGrid(course.form, clock, settings);
  const changes = changeDistances(course, grid);
  const { slotsPerChorus } = grid;
  const places = grid.slots.map(({ barIndex, beat, sub }) => ({
    bar: course.form.bars[barIndex]?.bar ?? FIRST_PLACE.bar,
    beat,
    sub,
  }));

  function slotInChorus(slot: number): number {
    return slot - Math.floor(slot / slotsPerChorus) * slotsPerChorus;
  }

  function ordinal(slot: number): number {
    const chorus = Math.floor(slot / slotsPerChorus);
    return chorus * course.chords.length + (grid.slots[slotInChorus(slot)]?.chord ?? 0);
  }

  function toleranceMs(slot: number): number {
    const slotsInBeat = grid.slots[slotInChorus(slot)]?.slotsInBeat ?? 1;
    return slotToleranceMs(grid.beatMs(slot), slotsInBeat, settings.toleranceMs);
  }

  const end = createOpenEnd(grid, emit);
  const alignment = createAlignment(grid, grid.plannedSlots === null ? end.pass : emit);

  return {
    ...alignment,
    cell: (slot) => ({
      fromMs: (grid.timeMs(slot - 1) + grid.timeMs(slot)) / 2,
      toMs: (grid.timeMs(slot) + grid.timeMs(slot + 1)) / 2,
    }),
    closing() {
      if (grid.plannedSlots === null) return end.closing();
      const strike = alignment.closing();
      return strike && { strike, nominalMs: grid.timeMs(grid.plannedSlots) };
    },
    nominalMs: grid.timeMs,
    toleranceMs,
    ordinal,
    sinceChange(slot) {
      const since = changes.since[slotInChorus(slot)] ?? null;
      // The very first chord of a take was not changed to.
      return since !== null && slot - since > 0 ? since : null;
    },
    beforeChange: (slot) => changes.before[slotInChorus(slot)] ?? false,
    placeOf: (slot) => places[slotInChorus(slot)] ?? FIRST_PLACE,
    chorusOf: (slot) => Math.floor(slot / slotsPerChorus) + 1,
    beatsIn(slot) {
      const chorus = Math.floor(slot / slotsPerChorus);
      const at = grid.slots[slot - chorus * slotsPerChorus];
      return chorus * grid.beatsPerChorus + (at?.beatInChorus ?? 0) + (at?.fraction ?? 0);
    },
    preview(onsetMs) {
      const slot = alignment.slotAt(onsetMs);
      if (slot === null) return null;
      return {
        index: slot,
        isClosing: slot === grid.plannedSlots,
        ordinal: ordinal(slot),
        nominalMs: grid.timeMs(slot),
        toleranceMs: toleranceMs(slot),
      };
    },
    unplayedAfter(last) {
      const graded = last === null ? 0 : last + 1;
      const wholeChoruses = Math.ceil(graded / slotsPerChorus) * slotsPerChorus;
      return (grid.plannedSlots ?? wholeChoruses) - graded;
    },
  };
}

/**
 * The end of a line without a planned one: a lone strike in the first slot after a whole chorus is withheld until more comes.
 * When nothing does it is the closing note. Source: `grading.md`, "Closing note".
 */
function createOpenEnd(
  grid: SlotGrid,
  emit: EntryListener,
): { readonly pass: EntryListener; closing(): ClosingStrike | null } {
  let withheld: {
    readonly slot: number;
    readonly strike: Strike;
    readonly doubled: readonly Strike[];
  } | null = null;

  /** What was withheld, and the empty slots since. */
  function release(upTo: number): void {
    if (withheld === null) return;
    const { slot, strike, doubled } = withheld;
    withheld = null;
    emit(slot, strike, NONE, doubled);
    for (let empty = slot + 1; empty < upTo; empty++) emit(empty, null, NONE, NONE);
  }

  return {
    pass(slot, strike, spares, doubled) {
      if (strike === null && withheld !== null) return;
      release(slot);
      const isFirst = slot > 0 && slot % grid.slotsPerChorus === 0;
      if (strike !== null && isFirst && spares.length === 0) withheld = { slot, strike, doubled };
      else emit(slot, strike, spares, doubled);
    },
    closing: () => withheld && { strike: withheld.strike, nominalMs: grid.timeMs(withheld.slot) },
  };
}

const NONE: readonly Strike[] = Object.freeze([]);

/** For each slot of a chorus: slots since the last change (null: the form has none), and whether one follows. */
function changeDistances(
  course: Course,
  grid: SlotGrid,
): { readonly since: readonly (number | null)[]; readonly before: readonly boolean[] } {
  const starts = grid.slots.map(
    (slot, index) =>
      course.chords[slot.chord]?.boundary === 'change' &&
      grid.slots[index - 1]?.chord !== slot.chord,
  );
  const since: (number | null)[] = [];
  const lastStart = starts.lastIndexOf(true);
  let count = lastStart < 0 ? null : starts.length - 1 - lastStart;
  for (const isStart of starts) {
    count = isStart ? 0 : count === null ? null : count + 1;
    since.push(count);
  }
  return { since, before: starts.map((_, index) => starts[(index + 1) % starts.length] === true) };
}
