/**
 * What a line is chosen by of all that it has played: returns to the key before last, enclosures, echoes of the cell before,
 * and bars that were played already. These look back as far as they like, since a line is written from its beginning.
 */

import type { PaletteView } from '../../grading/index.ts';
import { paletteSteps } from '../../grading/palette-view.ts';
import { chanceAt, STREAM } from './noise.ts';
import type { TastePlace } from './place-costs.ts';
import type { Weights } from './weights.ts';

/** Cost of a key as the next note, from what was played before it. */
export type PastCost = (midi: number) => number;

/** In semitones. */
const LARGEST_THIRD = 4;
const LARGEST_STEP = 2;

/** A cell is what two beats play. */
const CELL_BEATS = 2;
/** How many cells are to echo the one before. In solos 3.6 % are transposed; some come about by themselves. */
const ECHO_SHARE = 0.2;
/** The two notes before an enclosed one lie no further from it. */
const ENCLOSING_SEMITONES = 2;

/** Looks back over the keys of a line so far. */
export function createPast(
  places: readonly TastePlace[],
  weights: Weights,
  seed: number,
): { costAt(index: number, midis: readonly number[]): PastCost } {
  const cells = cellStarts(places);
  const earlierBars = new Map<string, Set<number>>();
  let barStart = 0;

  /** The keys that would make the bar that ends with this note equal to an earlier one of its chorus. */
  function barsAlike(index: number, midis: readonly number[]): ReadonlySet<number> | null {
    const place = places[index]?.entry;
    const before = places[index - 1]?.entry;
    if (place === undefined || before === undefined) return null;
    if (place.chorus !== before.chorus) earlierBars.clear();
    if (place.chorus !== before.chorus || place.place.bar !== before.place.bar) {
      const last = midis[index - 1] ?? 0;
      const begun = midis.slice(barStart, index - 1).join();
      const ends = earlierBars.get(begun) ?? new Set();
      earlierBars.set(begun, ends.add(last));
      barStart = index;
    }
    const next = places[index + 1]?.entry;
    const endsBar =
      next === undefined || next.place.bar !== place.place.bar || next.chorus !== place.chorus;
    return endsBar ? (earlierBars.get(midis.slice(barStart, index).join()) ?? null) : null;
  }

  /** The key that would make the cell that ends with this note equal to the one before. */
  function cellsAlike(index: number, midis: readonly number[]): number | null {
    const cell = cells[index];
    if (cell === undefined || cell.before === null || cells[index + 1]?.start === cell.start)
      return null;
    const { start, before } = cell;
    const isAlike = midis.slice(start, index).every((midi, at) => midi === midis[before + at]);
    return isAlike ? (midis[start - 1] ?? null) : null;
  }

  /** The move that the note of the cell before made, where this one is to echo it. */
  function echoed(index: number, midis: readonly number[]): Move | null {
    const cell = cells[index];
    if (cell === undefined || cell.start === index) return null;
    const { start, before } = cell;
    if (before === null || chanceAt(seed, STREAM.echo, start) >= ECHO_SHARE) return null;
    // The same cell at the same height is no echo.
    if (midis[start] === midis[before]) return null;
    const model = index - start + before;
    const from = midis[model - 1];
    const to = midis[model];
    return from === undefined || to === undefined
      ? null
      : moveIn(places[model]?.entry.palette ?? null, from, to);
  }

  return {
    costAt(index, midis) {
      const last = midis[index - 1];
      const beforeLast = midis[index - 2];
      const wasReturn = last !== undefined && last === midis[index - 3];
      const running = runDirection(midis);
      const alike = barsAlike(index, midis);
      const echo = echoed(index, midis);
      const cellAgain = cellsAlike(index, midis);
      const palette = places[index]?.entry.palette ?? null;
      return (midi) => {
        let cost = 0;
        if (last !== undefined && midi === beforeLast && midi !== last) {
          cost += Math.abs(midi - last) > LARGEST_STEP ? weights.return : 0;
          cost += wasReturn ? weights.returnAgain : 0;
        }
        if (running !== 0 && Math.sign(midi - (last ?? midi)) === -running)
          cost += weights.turnInRun;
        if (midi === cellAgain) cost += weights.sameCell;
        if (alike?.has(midi)) cost += weights.sameBar;
        if (last === undefined) return cost;
        if (beforeLast !== undefined && isEnclosed(midi, beforeLast, last))
          cost -= weights.enclosure;
        if (echo !== null && isSameMove(echo, moveIn(palette, last, midi))) cost -= weights.echo;
        return cost;
      };
    },
  };
}

/** The way of the last move where the one before went the same way, or was a leap that is being filled; else 0. */
function runDirection(midis: readonly number[]): number {
  const [one, two, three] = midis.slice(-3);
  if (one === undefined || two === undefined || three === undefined) return 0;
  const direction = Math.sign(three - two);
  const fills = Math.abs(two - one) > LARGEST_THIRD;
  return fills || Math.sign(two - one) === direction ? direction : 0;
}

interface Move {
  readonly semitones: number;
  /** Null where one of the keys is outside the palette. */
  readonly steps: number | null;
}

function moveIn(palette: PaletteView | null, from: number, to: number): Move {
  const steps = palette === null ? null : paletteSteps(palette, from, to);
  return { semitones: to - from, steps: steps === null ? null : steps * Math.sign(to - from) };
}

/** A sequence keeps the steps of its palette, or its semitones. */
function isSameMove(one: Move, other: Move): boolean {
  return one.semitones === other.semitones || (one.steps !== null && one.steps === other.steps);
}

function isEnclosed(midi: number, one: number, other: number): boolean {
  const isBetween = Math.sign(one - midi) * Math.sign(other - midi) === -1;
  return (
    isBetween &&
    Math.abs(one - midi) <= ENCLOSING_SEMITONES &&
    Math.abs(other - midi) <= ENCLOSING_SEMITONES
  );
}

interface Cell {
  /** Index of its first note, and of the first note of the cell before where that has as many notes, else null. */
  readonly start: number;
  readonly before: number | null;
}

/** For each note the cell it stands in. */
function cellStarts(places: readonly TastePlace[]): readonly Cell[] {
  const numbers = places.map(({ entry }) => {
    const { place, chorus } = entry;
    return `${chorus} ${place.bar} ${Math.floor((place.beat - 1) / CELL_BEATS)}`;
  });
  const starts: number[] = [];
  numbers.forEach((number, index) => {
    if (number !== numbers[index - 1]) starts.push(index);
  });
  let cell = -1;
  return numbers.map((_, index) => {
    if (starts[cell + 1] === index) cell++;
    const start = starts[cell] ?? 0;
    const before = starts[cell - 1];
    const end = starts[cell + 1] ?? numbers.length;
    const isAsLong = before !== undefined && end - start === start - before;
    return { start, before: isAsLong ? before : null };
  });
}
