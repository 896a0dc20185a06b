/**
 * Where everything on the stage stands and how large it is, from the window and the distance it is read from. Sizes only grow
 * with the window: where there is less room there are fewer rows, or fewer bars in a row. Pure; all lengths in CSS pixels.
 */

import { farPx, LEGIBLE, rootOfSuffixPx, sansPx, serifPx } from './distance.ts';

export interface StageRoom {
  readonly width: number;
  readonly height: number;
  readonly distanceM: number;
}

/** What of a form the layout depends on. */
export interface StageForm {
  readonly bars: number;
  /** The most beats of a bar. */
  readonly beats: number;
  readonly slotsPerBeat: number;
  /** Width of the longest chord name, in em of its root. */
  readonly chordEm: number;
}

export interface StageLayout {
  /** Four columns over four bars; else chord, next and keys stand side by side. */
  readonly isWide: boolean;
  readonly edge: number;
  /** Of the page, without the edges. */
  readonly width: number;
  readonly head: number;
  readonly panel: number;
  readonly rows: number;
  readonly map: number;
  readonly foot: number;
  /** Sizes of type. */
  readonly great: number;
  readonly next: number;
  readonly count: number;
  readonly total: number;
  readonly moves: number;
  readonly root: number;
  /** The smaller extent of a mark. */
  readonly mark: number;
  readonly beatCell: number;
  /** Where the next chord begins. */
  readonly nextAt: number;
  /** The octave of keys; null where it has no room. */
  readonly keys: { readonly at: number; readonly width: number; readonly height: number } | null;
  readonly page: PageLayout;
}

/** The rows of bars on the page. */
export interface PageLayout {
  readonly perRow: number;
  /** Rows that are on the page at once. */
  readonly rowCount: number;
  /** Rows of one chorus. */
  readonly formRows: number;
  /** The whole form is on the page. */
  readonly isWhole: boolean;
  readonly bar: number;
  readonly row: number;
  readonly gap: number;
  /** Below the rule at the foot of a bar. */
  readonly below: number;
}

/** Type of the head's words, and its line with the space above. */
export const HEAD = 44;
const PANEL_TOP = 4;
const PANEL_GAP = 8;
const ROWS_TOP = 8;
/** A line of beats is so much higher than its figures' type. */
export const COUNT_LINE = 1.24;
/** A form of so many bars is brought onto the page whole where the great chord can give way to it. */
const WHOLE_BARS = 12;
const PER_ROW = [4, 2, 1] as const;

export function stageLayout(room: StageRoom, form: StageForm): StageLayout {
  const { distanceM } = room;
  const far = (share: number): number => farPx(distanceM, share);
  const edge = Math.min(64, Math.max(16, room.width * 0.03125));
  const width = room.width - 2 * edge;
  const ofHeight = (share: number): number => room.height * share;
  const ofWidth = (share: number): number => room.width * share;

  const count = Math.max(sansPx(far(LEGIBLE.count)), Math.min(ofHeight(0.049), ofWidth(0.032)));
  const total = Math.max(sansPx(far(LEGIBLE.total)), Math.min(ofHeight(0.03), ofWidth(0.022)));
  const moves = Math.max(sansPx(far(LEGIBLE.name)), Math.min(ofHeight(0.04), ofWidth(0.026)));
  const root = Math.max(rootOfSuffixPx(far(LEGIBLE.name)), ofHeight(1 / 18.5));
  const mark = Math.max(far(LEGIBLE.mark) + 1.5, ofHeight(1 / 47));
  const keysLeast = 7 * far(LEGIBLE.name) * 2.42;
  const isWide = width / 4 > count * 5.4 && width / 2 > keysLeast + moves * 4.6 + 24;

  const least = serifPx(far(LEGIBLE.great));
  const nextLeast = serifPx(far(LEGIBLE.next));
  const column = isWide ? width / 4 - 40 : width / 3.4 - 20;
  const wished = Math.min(ofHeight(0.165), ofWidth(0.104), column / form.chordEm);
  const regular = Math.max(least, wished);

  const panelBelow = isWide ? 20 : 12;
  const panelFor = (great: number): number =>
    PANEL_TOP + great + PANEL_GAP + count * COUNT_LINE + panelBelow;
  const mapMark = mapMarkPx(distanceM);
  const map = 8 + 26 + mapMark / 2 + 14 + 12;
  const foot = Math.max(48, total * 1.3) + (isWide ? 24 : 16);
  const rowsFor = (great: number): number =>
    Math.max(0, room.height - HEAD - panelFor(great) - map - foot - ROWS_TOP);

  const fits = (bars: number): boolean =>
    width / bars >= root * 4.6 &&
    width / bars - root / 3 >= mark * 1.9 * form.beats * form.slotsPerBeat;
  const perRow = Math.min(PER_ROW.find(fits) ?? 1, Math.max(1, form.bars));
  const formRows = Math.max(1, Math.ceil(form.bars / perRow));
  const need = root * 1.14 + mark * 2.15 + 54;
  const whole = formRows * (need + 4);
  let great = regular;
  if (form.bars <= WHOLE_BARS) {
    while (rowsFor(great) < whole && great > least * 1.25) great -= 4;
  }
  if (rowsFor(great) < whole) great = regular;
  const space = rowsFor(great);
  const isWhole = space >= whole;
  const rowCount = isWhole ? formRows : Math.max(1, Math.floor((space + 8) / (need + 8)));
  const gap = isWhole && space < whole + 20 ? 2 : 8;

  const beatCell = Math.min(count * (isWide ? COUNT_LINE : 1.16), (column + 40) / form.beats);
  const beats = form.beats * (beatCell + 4);
  const nextAt = isWide ? width / 4 : Math.max(great * form.chordEm, beats) + 16;
  const height = great * 0.83 + PANEL_GAP + count * COUNT_LINE;
  const keysWidth = isWide ? Math.min(width / 2 - moves * 4.6 - 24, 600) : keysLeast;
  const keysAt = isWide ? width / 2 : width - keysWidth;
  const nextRoom = (until: number): number => (until - nextAt - 16) / form.chordEm;
  const hasKeys = nextRoom(keysAt) >= nextLeast && height >= far(LEGIBLE.name) * 4.6;
  const next = Math.max(
    nextLeast,
    Math.min(ofHeight(0.09), ofWidth(0.056), great * 0.66, nextRoom(hasKeys ? keysAt : width)),
  );
  return {
    ...{
      isWide,
      edge,
      width,
      head: HEAD,
      panel: panelFor(great),
      rows: space + ROWS_TOP,
      map,
      foot,
    },
    ...{ great, next, count, total, moves, root, mark, beatCell, nextAt },
    keys: hasKeys ? { at: keysAt, width: keysWidth, height } : null,
    page: {
      ...{ perRow, rowCount, formRows, isWhole, gap },
      bar: width / perRow,
      row: (space - gap * (rowCount - 1)) / rowCount,
      below: gap < 8 ? 6 : 10,
    },
  };
}

/** The marks on the map of the form. */
export function mapMarkPx(distanceM: number): number {
  return Math.min(farPx(distanceM, LEGIBLE.mark) + 1, 24);
}
