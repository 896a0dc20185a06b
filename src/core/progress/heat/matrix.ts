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

/**
 * Adds entries up; those of a row or column that is not on its axis are left out. In: entries take by take, those of the newest
 * first.
 */
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
      return columns.values.map((column) => cellOf(own?.get(columns.nameOf(column)) ?? []));
    }),
    uncountedTakeIds: uncounted.map(({ takeId }) => takeId),
  };
}

/** What one take comes to in a cell. */
interface Sum {
  readonly take: PlayedTake;
  hits: number;
  of: number;
}

/** Sums by row, column and take, in one pass: a picture of many takes has a hundred thousand entries. */
function sumEntries(
  entries: readonly HeatEntry[],
): ReadonlyMap<string, ReadonlyMap<string, readonly Sum[]>> {
  const byRow = new Map<string, Map<string, Sum[]>>();
  for (const { take, row, column, hits, of } of entries) {
    if (of === 0) continue;
    const columns = byRow.get(row) ?? new Map<string, Sum[]>();
    byRow.set(row, columns);
    const sums = columns.get(column);
    const sum = sums?.at(-1);
    if (sums === undefined) columns.set(column, [{ take, hits, of }]);
    else if (sum?.take !== take) sums.push({ take, hits, of });
    else {
      sum.hits += hits;
      sum.of += of;
    }
  }
  return byRow;
}

/** In: sums of different takes, the newest first. */
function cellOf(sums: readonly Sum[]): HeatCell {
  // Most takes have no hits in a cell, and they are in order already.
  const most = sums.filter(({ hits }) => hits > 0).sort((one, other) => other.hits - one.hits);
  const none = sums.filter(({ hits }) => hits === 0);
  return {
    hits: most.reduce((total, { hits }) => total + hits, 0),
    of: sums.reduce((total, { of }) => total + of, 0),
    takeIds: [...most, ...none].map(({ take }) => take.takeId),
  };
}
