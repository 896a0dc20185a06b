/**
 * Which bar stands in which place of the page. Where the form has more rows than the page, places are filled anew one by one as
 * the line comes by: the place above or below the bar under way takes the bar a page ahead, so that nothing moves, the row to
 * come is there in time, and what was just played stays until its verdicts are. Pure.
 */

import type { PageLayout } from './layout.ts';

/** A place of the page, or a bar in the rows of a performance: rows counted on from chorus to chorus; both from 0. */
export interface RowPlace {
  readonly row: number;
  readonly column: number;
}

export interface UnderWay extends RowPlace {
  /** Of the bar, from 1. */
  readonly beat: number;
}

/** A bar of the form by its place in it, from 0, in a chorus, from 1. */
export interface ChorusBar {
  readonly barAt: number;
  readonly chorus: number;
}

type Rows = Pick<PageLayout, 'perRow' | 'rowCount' | 'formRows' | 'isWhole'>;

/** Where a bar of a chorus lies in the rows of a performance. */
export function rowOf({ barAt, chorus }: ChorusBar, { perRow, formRows }: Rows): RowPlace {
  return { row: (chorus - 1) * formRows + Math.floor(barAt / perRow), column: barAt % perRow };
}

/** What stands in a place; null: nothing, past the end of the form or of the performance (`choruses`, null for endless). */
export function barShownAt(
  place: RowPlace,
  now: ChorusBar & { readonly beat: number },
  page: Rows,
  form: { readonly bars: number; readonly choruses: number | null },
): ChorusBar | null {
  const { perRow, formRows, isWhole, rowCount } = page;
  const { bars, choruses } = form;
  const wished = isWhole
    ? (now.chorus - 1) * formRows + place.row
    : rowShownAt(place, { ...rowOf(now, page), beat: now.beat }, rowCount);
  // After the last row nothing takes over.
  const isOver = choruses !== null && wished >= choruses * formRows;
  const row = isOver ? wished - rowCount : wished;
  const barAt = (row % formRows) * perRow + place.column;
  return row < 0 || barAt >= bars ? null : { barAt, chorus: Math.floor(row / formRows) + 1 };
}

/** In a row alone the bars played are taken over by the next ones from here on: the last verdicts are there by then. */
const SETTLED_BEAT = 3;

function rowShownAt(place: RowPlace, now: UnderWay, rowCount: number): number {
  if (rowCount === 1) {
    const isOver = place.column < now.column - (now.beat < SETTLED_BEAT ? 1 : 0);
    return now.row + (isOver ? 1 : 0);
  }
  const first = Math.max(0, now.row - (place.column > now.column ? 1 : 0));
  const ahead = (((place.row - first) % rowCount) + rowCount) % rowCount;
  return first + ahead;
}
