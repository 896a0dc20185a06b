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
  /** The strike in the cell after the planned end, once that is over or the take has ended; null: none, or no planned end. */
  closing(): Strike | null;
  /** The slot whose cell a time falls in, the one after the planned end included; null before the first and after that. */
  slotAt(timeMs: number): number | null;
}

const NONE: readonly Strike[] = Object.freeze([]);

interface Cell {
  strike: Strike | null;
  /** Spare onsets after the slot's time, in order; they may still fill the next slot. */
  after: readonly Strike[];
  spares: readonly Strike[];
  doubled: readonly Strike[];
}

/**
 * Starts an alignment on a grid; `emit` gets each slot once, in order, when its filling can no longer change. A cell owns the time from the midpoint
 * to its previous slot up to, but not including, the midpoint to its next. Of two onsets equally near the
 * earlier fills the slot. Onsets before the first cell belong to no slot. The cell after the last planned one owes nothing: of
 * its onsets the first may be the last slot's, late, where that is empty; of the others the nearest is the closing note, and
 * the rest, as what comes later, belong to no slot. Source: `grading.md`, "Closing note".
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
  let closing: Strike | null = null;
  let isOver = false;

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

  /** The cell after the planned end. */
  function finishLine(): void {
    isOver = true;
    const strikes = first === null ? [] : [first, ...(more ?? [])];
    if (previous !== null) {
      const [earliest] = strikes;
      const distanceMs = nominalMs - beforeMs;
      const isLate =
        earliest !== undefined &&
        earliest.onsetMs < nominalMs &&
        earliest.onsetMs - beforeMs < REPAIR_SHARE * distanceMs;
      if (previous.strike === null && isLate) {
        previous.strike = earliest;
        if (earliest.doubles.length > 0) previous.doubled = [earliest];
        strikes.shift();
      }
      settle(previous);
      previous = null;
    }
    closing = strikes.length === 0 ? null : nearestTo(nominalMs, strikes);
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
    if (slot === slotCount && !isOver && timeMs >= cellEndMs) finishLine();
  }

  return {
    add(strike) {
      if (strike.onsetMs < lineStartMs) return;
      advance(strike.onsetMs);
      if (!isOver) put(strike);
    },
    advance,
    end() {
      if (first !== null && slot < slotCount) finishCell();
      // One empty cell more: the last onset may be a spare that fills it.
      if (previous !== null && previous.after.length > 0 && slot < slotCount) finishCell();
      if (slot === slotCount && !isOver) finishLine();
      if (previous !== null) settle(previous);
      previous = null;
    },
    closing: () => closing,
    slotAt(timeMs) {
      if (timeMs < lineStartMs) return null;
      let candidate = slot;
      let endMs = cellEndMs;
      while (timeMs >= endMs && candidate <= slotCount) {
        candidate++;
        endMs = (grid.timeMs(candidate) + grid.timeMs(candidate + 1)) / 2;
      }
      return candidate <= slotCount ? candidate : null;
    },
  };
}

function fillCell(first: Strike | null, more: readonly Strike[] | null, nominalMs: number): Cell {
  if (first === null || more === null) {
    const doubled = first === null || first.doubles.length === 0 ? NONE : [first];
    return { strike: first, after: NONE, spares: NONE, doubled };
  }
  const onsets = [first, ...more];
  const strike = nearestTo(nominalMs, onsets);
  return {
    strike,
    spares: onsets.filter((onset) => onset !== strike && onset.onsetMs < nominalMs),
    after: onsets.filter((onset) => onset !== strike && onset.onsetMs >= nominalMs),
    doubled: onsets.filter((onset) => onset.doubles.length > 0),
  };
}

/** Of two as near, the earlier. */
function nearestTo(nominalMs: number, strikes: readonly Strike[]): Strike {
  return strikes.reduce((nearest, strike) =>
    Math.abs(strike.onsetMs - nominalMs) < Math.abs(nearest.onsetMs - nominalMs) ? strike : nearest,
  );
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
