/** Counts over takes laid out in rows and columns, each cell with the takes behind it. */

import type { PlayedTake } from '../history.ts';

export interface HeatCell {
  /** How often it happened, of so many times it could have. */
  readonly hits: number;
  readonly of: number;
  /** The takes with hits: those with most first, then the newest. */
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

/**
 * Tells what one take adds to one cell: hits, of so many times it could have been one. Rows and columns are told by their name.
 */
export type AddHits = (
  take: PlayedTake,
  row: string,
  column: string,
  hits: number,
  of: number,
) => void;

export interface HeatAxis<Value> {
  readonly values: readonly Value[];
  /** Different for every value. */
  nameOf(value: Value): string;
}

/**
 * Adds up what `count` tells, take by take and the newest first; what is of a row or column that is not on its axis is left out.
 * Told by calls, because a picture of many takes has a hundred thousand of them.
 */
export function heatMatrix<Row, Column>(
  rows: HeatAxis<Row>,
  columns: HeatAxis<Column>,
  count: (add: AddHits) => void,
  uncounted: readonly PlayedTake[] = [],
): HeatMatrix<Row, Column> {
  const sums = new Map<string, Map<string, Sum>>();
  count((take, row, column, hits, of) => {
    if (of === 0) return;
    const own = sums.get(row) ?? new Map<string, Sum>();
    sums.set(row, own);
    const sum: Sum = own.get(column) ?? { of: 0, hits: new Map() };
    own.set(column, sum);
    sum.of += of;
    if (hits > 0) sum.hits.set(take, (sum.hits.get(take) ?? 0) + hits);
  });
  return {
    rows: rows.values,
    columns: columns.values,
    cells: rows.values.map((row) => {
      const own = sums.get(rows.nameOf(row));
      return columns.values.map((column) => cellOf(own?.get(columns.nameOf(column))));
    }),
    uncountedTakeIds: uncounted.map(({ takeId }) => takeId),
  };
}

/** What was told of a cell. */
interface Sum {
  of: number;
  /** Of those takes alone that have any, the newest first: few do. */
  readonly hits: Map<PlayedTake, number>;
}

function cellOf(sum: Sum | undefined): HeatCell {
  if (sum === undefined) return { hits: 0, of: 0, takeIds: [] };
  const { of, hits } = sum;
  const most = [...hits].sort(([, one], [, other]) => other - one);
  return {
    hits: most.reduce((total, [, own]) => total + own, 0),
    of,
    takeIds: most.map(([take]) => take.takeId),
  };
}
