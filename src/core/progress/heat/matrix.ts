/** Counts over takes laid out in rows and columns, each cell with the takes behind it. */

import type { PlayedTake } from '../history.ts';

export interface HeatCell {
  /** How often it happened, of so many times it could have. */
  readonly hits: number;
  readonly of: number;
  /** The takes counted here: those with most hits first, then the newest. */
  readonly takeIds: readonly string[];
}

export interface HeatMatrix<Row, Column> {
  readonly rows: readonly Row[];
  readonly columns: readonly Column[];
  /** One list for each row, one cell for each column; a cell nothing was counted in has `of` 0. */
  readonly cells: readonly (readonly HeatCell[])[];
  /** Takes kept before what this picture needs was kept with them: they are in no cell. */
  readonly uncountedTakeIds: readonly string[];
}

/** What one take adds to one cell. Rows and columns are told by their name. */
export interface HeatEntry {
  readonly take: PlayedTake;
  readonly row: string;
  readonly column: string;
  readonly hits: number;
  readonly of: number;
}

export interface HeatAxis<Value> {
  readonly values: readonly Value[];
  /** Different for every value. */
  nameOf(value: Value): string;
}

/** Adds entries up; those of a row or column that is not on its axis are left out. */
export function heatMatrix<Row, Column>(
  rows: HeatAxis<Row>,
  columns: HeatAxis<Column>,
  entries: readonly HeatEntry[],
  uncounted: readonly PlayedTake[] = [],
): HeatMatrix<Row, Column> {
  const sums = sumEntries(entries);
  return {
    rows: rows.values,
    columns: columns.values,
    cells: rows.values.map((row) => {
      const own = sums.get(rows.nameOf(row));
      return columns.values.map((column) => cellOf(own?.get(columns.nameOf(column)) ?? new Map()));
    }),
    uncountedTakeIds: uncounted.map(({ takeId }) => takeId),
  };
}

interface Sum {
  hits: number;
  of: number;
}

/** Sums by row, column and take, in one pass: a picture of many takes has a hundred thousand entries. */
function sumEntries(
  entries: readonly HeatEntry[],
): ReadonlyMap<string, ReadonlyMap<string, ReadonlyMap<PlayedTake, Sum>>> {
  const byRow = new Map<string, Map<string, Map<PlayedTake, Sum>>>();
  for (const { take, row, column, hits, of } of entries) {
    if (of === 0) continue;
    const byTake = within(within(byRow, row), column);
    const sum = byTake.get(take);
    if (sum === undefined) byTake.set(take, { hits, of });
    else {
      sum.hits += hits;
      sum.of += of;
    }
  }
  return byRow;
}

/** The map of a name, made when it is first asked for. */
function within<Key, Value>(maps: Map<string, Map<Key, Value>>, name: string): Map<Key, Value> {
  const known = maps.get(name);
  if (known !== undefined) return known;
  const fresh = new Map<Key, Value>();
  maps.set(name, fresh);
  return fresh;
}

function cellOf(byTake: ReadonlyMap<PlayedTake, Sum>): HeatCell {
  const sums = [...byTake].sort(
    ([one, a], [other, b]) =>
      b.hits - a.hits || other.evidence.playedAtMs - one.evidence.playedAtMs,
  );
  return {
    hits: sums.reduce((total, [, { hits }]) => total + hits, 0),
    of: sums.reduce((total, [, { of }]) => total + of, 0),
    takeIds: sums.map(([{ takeId }]) => takeId),
  };
}
