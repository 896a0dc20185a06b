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
  const byRow = Map.groupBy(entries, ({ row }) => row);
  return {
    rows: rows.values,
    columns: columns.values,
    cells: rows.values.map((row) => {
      const own = byRow.get(rows.nameOf(row)) ?? [];
      const byColumn = Map.groupBy(own, ({ column }) => column);
      return columns.values.map((column) => cellOf(byColumn.get(columns.nameOf(column)) ?? []));
    }),
    uncountedTakeIds: uncounted.map(({ takeId }) => takeId),
  };
}

function cellOf(entries: readonly HeatEntry[]): HeatCell {
  const byTake = [...Map.groupBy(entries, ({ take }) => take)]
    .map(([take, own]) => ({ take, hits: sumOf(own, 'hits'), of: sumOf(own, 'of') }))
    .filter(({ of }) => of > 0)
    .sort(
      (one, other) =>
        other.hits - one.hits || other.take.evidence.playedAtMs - one.take.evidence.playedAtMs,
    );
  return {
    hits: sumOf(byTake, 'hits'),
    of: sumOf(byTake, 'of'),
    takeIds: byTake.map(({ take }) => take.takeId),
  };
}

function sumOf(
  entries: readonly { readonly hits: number; readonly of: number }[],
  figure: 'hits' | 'of',
): number {
  return entries.reduce((sum, entry) => sum + entry[figure], 0);
}
