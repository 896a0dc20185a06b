/** Pictures over takes, ready to be shown: what rows and columns are, each cell with the takes to look at. */

import type { HeatReply, HeatWish } from '../../../shared/bridge/index.ts';
import {
  changesByLateness,
  chordsByRoots,
  type HeatMatrix,
  type PlayedTake,
  rulesByBars,
  weeksByBars,
} from '../../core/progress/index.ts';
import type { History } from './history.ts';

/** The newest takes a picture is drawn from, so that it is there within a tenth of a second. */
const MOST_TAKES = 200;
/** Takes a cell leads to. */
const MOST_LED_TO = 5;

/** Draws a picture of a history. */
export function heatOf(history: History, wish: HeatWish): HeatReply {
  const newest = history.newest(wish, MOST_TAKES + 1);
  const own = newest.slice(0, MOST_TAKES);
  const takes = wish.picture === 'weeksByBars' ? own : history.withChords(own);
  return {
    ...pictureOf(takes, wish),
    takes: takes.length,
    isNewestOnly: newest.length > MOST_TAKES,
  };
}

function pictureOf(
  takes: readonly PlayedTake[],
  { picture }: HeatWish,
): Omit<HeatReply, 'takes' | 'isNewestOnly'> {
  switch (picture) {
    case 'rulesByBars':
      return shown(rulesByBars(takes), (axes) => ({ picture, ...axes }));
    case 'weeksByBars':
      return shown(weeksByBars(takes), (axes) => ({ picture, ...axes }));
    case 'chordsByRoots':
      return shown(chordsByRoots(takes), (axes) => ({ picture, ...axes }));
    case 'changesByLateness':
      return shown(changesByLateness(takes), (axes) => ({ picture, ...axes }));
  }
}

function shown<Row, Column>(
  { rows, columns, cells, uncountedTakeIds }: HeatMatrix<Row, Column>,
  named: (axes: Pick<HeatMatrix<Row, Column>, 'rows' | 'columns'>) => HeatReply['axes'],
): Omit<HeatReply, 'takes' | 'isNewestOnly'> {
  return {
    axes: named({ rows, columns }),
    cells: cells.map((row) =>
      row.map(({ hits, of, takeIds }) => ({ hits, of, takeIds: takeIds.slice(0, MOST_LED_TO) })),
    ),
    uncounted: uncountedTakeIds.length,
  };
}
