/**
 * One bar of the stage as shapes, in pixels of its own box: the line that was played, marks where it broke, changes of palette;
 * before it is played, what broke there in the chorus before, in pencil. Pure.
 */

import type { BarDrawing, ChangeDrawing, NoteDrawing, Point } from '../chart-page/line-model.ts';
import type { Shape } from '../chart-page/line-shapes.ts';
import {
  extraMark,
  gapMark,
  hatch,
  head,
  intervalMark,
  outsideMark,
  stem,
  wallMark,
} from './marks.ts';

/** The box of a bar, px. */
export interface BarBox {
  readonly width: number;
  readonly height: number;
  readonly root: number;
  readonly mark: number;
  /** Below the rule at its foot. */
  readonly below: number;
  /** The last of its row: what leads on into the next bar ends at its line. */
  readonly isLast: boolean;
}

/** Above the bar line: the bar's number. */
export const BAR_TOP = 18;

/** Where things lie in a bar. */
export interface BarFrame {
  /** Under the chords. */
  readonly zone: number;
  readonly foot: number;
  /** Height of beat and stems at the foot. */
  readonly rail: number;
  readonly highest: number;
  readonly lowest: number;
  x(share: number): number;
}

export function frameOf({ width, height, root, mark, below }: BarBox): BarFrame {
  const before = Math.max(10, root * 0.32);
  const zone = BAR_TOP + root * 1.14;
  const foot = height - below;
  const rail = Math.max(mark, 8);
  return {
    zone,
    foot,
    rail,
    highest: zone + mark * 0.5,
    lowest: foot - rail - mark * 0.65,
    x: (share) => before + mark * 0.4 + share * (width - before),
  };
}

export interface BarContents {
  /** Of the chorus that stands in the bar; undefined while nothing was played there. */
  readonly drawing: BarDrawing | undefined;
  /** Of the chorus before. */
  readonly before: BarDrawing | undefined;
  /** Where in the bar a palette changes, as shares of it. */
  readonly changesAt: readonly number[];
}

/** The shapes of a bar, those behind first. */
export function barShapes(
  box: BarBox,
  { drawing, before, changesAt }: BarContents,
): readonly Shape[] {
  const frame = frameOf(box);
  const told = drawing?.changes ?? [];
  const isTold = (at: number): boolean => told.some(({ from }) => Math.abs(from - at) < 1e-6);
  const toCome = changesAt
    .filter((at) => !isTold(at))
    .map((at) => stem(frame.x(at), frame.foot, frame.rail, true));
  if (drawing === undefined) return [...toCome, ...pencilled(box, frame, before)];
  return [
    ...told.flatMap((change) => hatchOf(frame, box, change)),
    ...drawing.strokes.flatMap((stroke) => strokeShapes(box, frame, drawing.notes, stroke)),
    ...drawing.gaps.flatMap((x) => {
      const { mark } = box;
      return gapMark(frame.x(x), frame.highest - mark * 0.3, frame.lowest + mark * 0.3, mark);
    }),
    ...drawing.notes.flatMap((note) => noteShapes(box, frame, note)),
    ...toCome,
    ...told.flatMap((change) => stemOf(frame, change)),
  ];
}

const yOf = ({ highest, lowest }: BarFrame, y: number): number => highest + y * (lowest - highest);

/** As thick as it holds: the part that leads to notes not settled yet is thin. */
function strokeShapes(
  box: BarBox,
  frame: BarFrame,
  notes: readonly NoteDrawing[],
  stroke: readonly Point[],
): readonly Shape[] {
  const isOpen = ({ x }: Point): boolean => notes.some((note) => note.x === x && !note.settled);
  const firstOpen = stroke.findIndex(isOpen);
  const settled = firstOpen < 0 ? stroke : stroke.slice(0, firstOpen);
  const open = firstOpen < 0 ? [] : stroke.slice(Math.max(0, firstOpen - 1));
  return [
    ...polyline(box, frame, 'stage-line', settled),
    ...polyline(box, frame, 'stage-line thin', open),
  ];
}

function polyline(
  { width, isLast }: BarBox,
  frame: BarFrame,
  look: string,
  points: readonly Point[],
): readonly Shape[] {
  if (points.length < 2) return [];
  const placed = points.map(({ x, y }) => {
    // What leads on over the bar line goes to where the next bar begins to be drawn.
    const px = x < 1 ? frame.x(x) : isLast ? width : width + frame.x(0);
    return `${round(px)},${round(yOf(frame, y))}`;
  });
  return [{ element: 'polyline', look, attributes: { points: placed.join(' ') } }];
}

const round = (px: number): number => Math.round(px * 10) / 10;

function noteShapes(
  { mark }: BarBox,
  frame: BarFrame,
  { faults, settled, ...place }: NoteDrawing,
): readonly Shape[] {
  const x = round(frame.x(place.x));
  const y = round(yOf(frame, place.y));
  const look = settled ? '' : 'open';
  const isOutside = faults.includes('outside');
  const isInterval = faults.includes('interval');
  return [
    ...(faults.includes('extra') ? extraMark(x, y, mark) : []),
    ...(isOutside ? outsideMark(x, y, mark, look) : []),
    ...(isInterval ? intervalMark(x, isOutside ? y + mark * 1.3 : y, mark, look) : []),
    ...(isOutside || isInterval
      ? []
      : [head(`stage-note ${look}`.trim(), x, y, mark * 0.4, mark * 0.3)]),
    ...(faults.includes('late') ? wallMark(x, y, mark, 1) : []),
    ...(faults.includes('early') ? wallMark(x, y, mark, -1) : []),
  ];
}

/** The old palette, for as long as it was held on. */
function hatchOf(
  frame: BarFrame,
  { width, mark }: BarBox,
  { arrival, from, to }: ChangeDrawing,
): readonly Shape[] {
  if (arrival !== 'late') return [];
  const left = Math.max(2, frame.x(from) - mark * 0.5);
  const top = Math.max(frame.zone, frame.highest - mark * 0.7);
  const right = Math.min(width - 2, frame.x(to) - mark * 0.5);
  return [hatch(left, top, Math.max(mark, right - left), frame.lowest + mark * 0.5 - top)];
}

/** Where the new one was heard. */
function stemOf(
  { x, foot, rail }: BarFrame,
  { arrival, from, provenAt }: ChangeDrawing,
): readonly Shape[] {
  if (arrival === 'unproven') return [stem(x(from), foot, rail, true)];
  return arrival === 'unjudged' || provenAt === null ? [] : [stem(x(provenAt), foot, rail, false)];
}

/** Thin, and without a rim. */
const pencil = ([, line]: readonly Shape[]): readonly Shape[] =>
  line === undefined ? [] : [{ ...line, look: `${line.look} pencil` }];

function pencilled(
  { mark }: BarBox,
  frame: BarFrame,
  before: BarDrawing | undefined,
): readonly Shape[] {
  if (before === undefined) return [];
  const middle = (frame.highest + frame.lowest) / 2;
  return [
    ...before.gaps.flatMap((x) => pencil(gapMark(frame.x(x), middle - mark, middle + mark, mark))),
    ...before.notes.flatMap(({ faults, ...place }) => {
      const x = round(frame.x(place.x));
      const y = round(yOf(frame, place.y));
      return [
        ...(faults.includes('outside') ? outsideMark(x, y, mark, 'pencil') : []),
        ...(faults.includes('interval') ? intervalMark(x, y, mark, 'pencil') : []),
        ...(faults.includes('late') ? pencil(wallMark(x, y, mark, 1)) : []),
        ...(faults.includes('early') ? pencil(wallMark(x, y, mark, -1)) : []),
      ];
    }),
  ];
}
