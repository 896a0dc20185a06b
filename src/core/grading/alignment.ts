/**
 * Which onset fills which slot. A fold over strikes in order of time: each cell keeps the onset nearest to its
 * slot, and a spare one may repair an empty neighbour. Source: `grading.md`, "Slots and onsets".
 */

import type { SlotGrid } from '../grid/slot-grid.ts';
import type { Strike } from '../take/strikes.ts';

/** A spare onset repairs an empty neighbour only when nearer to it than this share of the slots' distance. */
export const REPAIR_SHARE = 0.75;

/** One slot whose filling can no longer change. */
export interface AlignedSlot {
  readonly slot: number;
  readonly strike: Strike | null;
  /** Onsets of its cell that fill no slot. */
  readonly spares: readonly Strike[];
  /** Keys that went down together with an onset of its cell, without being the line's note. */
  readonly doubles: readonly Strike[];
}

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
  doubles: readonly Strike[];
}

const EMPTY: Cell = { strike: null, after: NONE, spares: NONE, doubles: NONE };

/**
 * Starts an alignment on a grid; `emit` gets each slot once, in order. A cell owns the time from the midpoint
 * to its previous slot up to, but not including, the midpoint to its next. Of two onsets equally near the
 * earlier fills the slot. Onsets before the first cell or after the last planned one belong to no slot.
 */
export function createAlignment(grid: SlotGrid, emit: (aligned: AlignedSlot) => void): Alignment {
  let slot = 0;
  let nominalMs = grid.timeMs(0);
  let beforeMs = grid.timeMs(-1);
  let afterMs = grid.timeMs(1);
  let cellEndMs = (nominalMs + afterMs) / 2;
  const lineStartMs = (beforeMs + nominalMs) / 2;
  let inCell: Strike[] = [];
  let previous: Cell | null = null;
  const slotCount = grid.plannedSlots ?? Number.POSITIVE_INFINITY;

  function finishCell(): void {
    const cell = inCell.length === 0 ? { ...EMPTY } : fillCell(inCell, nominalMs);
    if (inCell.length > 0) inCell = [];
    if (previous !== null) {
      const distanceMs = nominalMs - beforeMs;
      if (cell.strike === null) repairForwards(previous, cell, nominalMs, distanceMs);
      else if (previous.strike === null) repairBackwards(previous, cell, beforeMs, distanceMs);
      settle(slot - 1, previous);
    }
    previous = cell;
    slot++;
    beforeMs = nominalMs;
    nominalMs = afterMs;
    afterMs = grid.timeMs(slot + 1);
    cellEndMs = (nominalMs + afterMs) / 2;
  }

  function settle(settled: number, cell: Cell): void {
    const spares = cell.after.length === 0 ? cell.spares : [...cell.spares, ...cell.after];
    emit({ slot: settled, strike: cell.strike, spares, doubles: cell.doubles });
  }

  function advance(timeMs: number): void {
    while (slot < slotCount && timeMs >= cellEndMs) finishCell();
  }

  return {
    add(strike) {
      if (strike.onsetMs < lineStartMs) return;
      advance(strike.onsetMs);
      if (slot < slotCount) inCell.push(strike);
    },
    advance,
    end() {
      if (inCell.length > 0 && slot < slotCount) finishCell();
      // One empty cell more: the last onset may be a spare that fills it.
      if (previous !== null && previous.after.length > 0 && slot < slotCount) finishCell();
      if (previous !== null) settle(slot - 1, previous);
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

function fillCell(onsets: readonly Strike[], nominalMs: number): Cell {
  let strike = onsets[0] ?? null;
  for (const onset of onsets) {
    if (
      strike === null ||
      Math.abs(onset.onsetMs - nominalMs) < Math.abs(strike.onsetMs - nominalMs)
    ) {
      strike = onset;
    }
  }
  const doubles = onsets.some((onset) => onset.doubles.length > 0)
    ? onsets.filter((onset) => onset.doubles.length > 0)
    : NONE;
  if (onsets.length === 1) return { strike, after: NONE, spares: NONE, doubles };
  return {
    strike,
    spares: onsets.filter((onset) => onset !== strike && onset.onsetMs < nominalMs),
    after: onsets.filter((onset) => onset !== strike && onset.onsetMs >= nominalMs),
    doubles,
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
