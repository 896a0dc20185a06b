/**
 * Which onset fills which slot. A fold over strikes in order of time: each cell keeps the onset nearest to its
 * slot, and a spare one may repair an empty neighbour. Source: `grading.md`, "Slots and onsets".
 */

import type { SlotGrid } from '../grid/slot-grid.ts';
import type { Strike } from '../take/strikes.ts';
import type { EntryListener } from './line-reader.ts';

/** A spare onset repairs an empty neighbour only when nearer to it than this share of the slots' distance. */
export const REPAIR_SHARE = 0.75;

export interface Alignment {
  /** Takes the next strike in order of time. */
  add(strike: Strike): void;
  /** Every strike before this time has been added. */
  advance(timeMs: number): void;
  /** Passes on what can still be filled. */
  end(): void;
  /** The slot whose cell a time falls in; null before the first cell or after the planned end. */
  slotAt(timeMs: number): number | null;
}

const NONE: readonly Strike[] = Object.freeze([]);

interface Cell {
  strike: Strike | null;
  /** Spare onsets after the slot's time, in order; they may still fill the next slot. */
  after: readonly Strike[];
  spares: readonly Strike[];
  readonly doubled: readonly Strike[];
}

/**
 * Starts an alignment on a grid; `emit` gets each slot once, in order, when its filling can no longer change. A cell owns the time from the midpoint
 * to its previous slot up to, but not including, the midpoint to its next. Of two onsets equally near the
 * earlier fills the slot. Onsets before the first cell or after the last planned one belong to no slot.
 */
export function createAlignment(grid: SlotGrid, emit: EntryListener): Alignment {
  let slot = 0;
  let nominalMs = grid.timeMs(0);
  let beforeMs = grid.timeMs(-1);
  let afterMs = grid.timeMs(1);
  let cellEndMs = (nominalMs + afterMs) / 2;
  const lineStartMs = (beforeMs + nominalMs) / 2;
  /** The strikes of the cell under way: nearly always one at most. */
  let first: Strike | null = null;
  let more: Strike[] | null = null;
  let previous: Cell | null = null;
  const slotCount = grid.plannedSlots ?? Number.POSITIVE_INFINITY;

  function finishCell(): void {
    const cell = fillCell(first, more, nominalMs);
    first = null;
    more = null;
    if (previous !== null) {
      const distanceMs = nominalMs - beforeMs;
      if (cell.strike === null) repairForwards(previous, cell, nominalMs, distanceMs);
      else if (previous.strike === null) repairBackwards(previous, cell, beforeMs, distanceMs);
      settle(previous);
    }
    previous = cell;
    slot++;
    beforeMs = nominalMs;
    nominalMs = afterMs;
    afterMs = grid.timeMs(slot + 1);
    cellEndMs = (nominalMs + afterMs) / 2;
  }

  function settle(cell: Cell): void {
    const spares = cell.after.length === 0 ? cell.spares : [...cell.spares, ...cell.after];
    emit(slot - 1, cell.strike, spares, cell.doubled);
  }

  function put(strike: Strike): void {
    if (first === null) first = strike;
    else if (more === null) more = [strike];
    else more.push(strike);
  }

  function advance(timeMs: number): void {
    while (slot < slotCount && timeMs >= cellEndMs) finishCell();
  }

  return {
    add(strike) {
      if (strike.onsetMs < lineStartMs) return;
      advance(strike.onsetMs);
      if (slot < slotCount) put(strike);
    },
    advance,
    end() {
      if (first !== null && slot < slotCount) finishCell();
      // One empty cell more: the last onset may be a spare that fills it.
      if (previous !== null && previous.after.length > 0 && slot < slotCount) finishCell();
      if (previous !== null) settle(previous);
      previous = null;
    },
    slotAt(timeMs) {
      if (timeMs < lineStartMs) return null;
      let candidate = slot;
      let endMs = cellEndMs;
      while (timeMs >= endMs && candidate < slotCount) {
        candidate++;
        endMs = (grid.timeMs(candidate) + grid.timeMs(candidate + 1)) / 2;
      }
      return candidate < slotCount ? candidate : null;
    },
  };
}

function fillCell(first: Strike | null, more: readonly Strike[] | null, nominalMs: number): Cell {
  if (first === null || more === null) {
    const doubled = first === null || first.doubles.length === 0 ? NONE : [first];
    return { strike: first, after: NONE, spares: NONE, doubled };
  }
  const onsets = [first, ...more];
  const strike = onsets.reduce((nearest, onset) =>
    Math.abs(onset.onsetMs - nominalMs) < Math.abs(nearest.onsetMs - nominalMs) ? onset : nearest,
  );
  return {
    strike,
    spares: onsets.filter((onset) => onset !== strike && onset.onsetMs < nominalMs),
    after: onsets.filter((onset) => onset !== strike && onset.onsetMs >= nominalMs),
    doubled: onsets.filter((onset) => onset.doubles.length > 0),
  };
}

/** The latest spare behind the slot before fills this empty one, when near enough. */
function repairForwards(before: Cell, cell: Cell, nominalMs: number, distanceMs: number): void {
  const spare = before.after.at(-1);
  if (spare === undefined || nominalMs - spare.onsetMs >= REPAIR_SHARE * distanceMs) return;
  cell.strike = spare;
  before.after = before.after.slice(0, -1);
}

/** The earliest spare ahead of this slot fills the empty one before, when near enough. */
function repairBackwards(before: Cell, cell: Cell, beforeMs: number, distanceMs: number): void {
  const spare = cell.spares[0];
  if (spare === undefined || spare.onsetMs - beforeMs >= REPAIR_SHARE * distanceMs) return;
  before.strike = spare;
  cell.spares = cell.spares.slice(1);
}
