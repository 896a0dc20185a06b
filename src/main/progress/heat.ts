/** Pictures over takes, ready to be shown: rows and columns by their words, each cell with the takes to look at. */

import type { HeatReply, HeatWish } from '../../../shared/bridge/index.ts';
import { formatDay } from '../../core/journal/index.ts';
import {
  changesByLateness,
  chordsByRoots,
  type HeatMatrix,
  type Lateness,
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
      return shown(
        rulesByBars(takes),
        (rule) => (rule === 'change' ? 'late change' : rule),
        String,
      );
    case 'weeksByBars':
      return shown(weeksByBars(takes), formatDay, String);
    case 'chordsByRoots':
      return shown(chordsByRoots(takes), familyWords, (pc) => ROOTS[pc] ?? '');
    case 'changesByLateness':
      return shown(
        changesByLateness(takes),
        ({ bar, beat, toChord }) => `${toChord}, bar ${bar}${beat === 1 ? '' : `, beat ${beat}`}`,
        (lateness) => LATENESS_WORDS[lateness],
      );
  }
}

function shown<Row, Column>(
  { rows, columns, cells, uncountedTakeIds }: HeatMatrix<Row, Column>,
  rowWords: (row: Row) => string,
  columnWords: (column: Column) => string,
): Omit<HeatReply, 'takes' | 'isNewestOnly'> {
  return {
    rows: rows.map(rowWords),
    columns: columns.map(columnWords),
    cells: cells.map((row) =>
      row.map(({ hits, of, takeIds }) => ({ hits, of, takeIds: takeIds.slice(0, MOST_LED_TO) })),
    ),
    uncounted: uncountedTakeIds.length,
  };
}

/** One name for each pitch class: charts name their roots themselves. */
const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];

const LATENESS_WORDS: Readonly<Record<Lateness, string>> = {
  onTime: 'on time',
  by1: '1 slot late',
  by2: '2 late',
  by3: '3 late',
  byMore: 'more',
  unproven: 'unproven',
};

/** `halfDiminished` as it is said. */
function familyWords(family: string): string {
  return family.replace(/[A-Z]/gu, (letter) => `-${letter.toLowerCase()}`);
}
