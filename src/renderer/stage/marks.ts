/**
 * The marks of the stage as shapes: on the page, on the map of the form and in the legend. `size` is a mark's smaller extent, px.
 * Each has a rim of the sheet's colour, so that it reads on every tint. Pure.
 */

import type { Shape } from '../chart-page/line-shapes.ts';

export const path = (look: string, d: string): Shape => ({
  element: 'path',
  look,
  attributes: { d },
});

/** Lines in the colour of timing on a wider rim. */
const rimmed = (look: string, d: string): readonly Shape[] => [
  path(`stage-rim ${look}`, d),
  path(`stage-time ${look}`, d),
];

/** A note head as it is printed, or a ring around one. */
export function head(look: string, x: number, y: number, rx: number, ry: number): Shape {
  const transform = `translate(${x} ${y}) rotate(-20)`;
  return { element: 'ellipse', look, attributes: { rx, ry, transform } };
}

export function outsideMark(x: number, y: number, size: number, look = ''): readonly Shape[] {
  const half = size / 2 + 1;
  const d = `M${x} ${y - half}l${half} ${half} ${-half} ${half} ${-half} ${-half}z`;
  return [path(`stage-outside ${look}`.trim(), d)];
}

export function intervalMark(x: number, y: number, size: number, look = ''): readonly Shape[] {
  const half = size * 0.6;
  return [
    path(`stage-interval ${look}`.trim(), `M${x} ${y - half}l${half} ${size} ${-2 * half} 0z`),
  ];
}

export function extraMark(x: number, y: number, size: number): readonly Shape[] {
  return [head('stage-ring', x, y, size * 0.66, size * 0.66)];
}

/** The head leans on a wall: to its left when it came early, to its right when late. */
export function wallMark(x: number, y: number, size: number, side: -1 | 1): readonly Shape[] {
  const from = x + side * size * 0.2;
  const wall = x + side * size * 1.1;
  const d = `M${from} ${y}H${x + side * size * 1.15}M${wall} ${y - size * 0.62}v${size * 1.24}`;
  return rimmed('wall', d);
}

/** An eighth torn out along its two perforations. */
export function gapMark(x: number, top: number, bottom: number, size: number): readonly Shape[] {
  const d = `M${x - size * 0.55} ${top}V${bottom}M${x + size * 0.55} ${top}V${bottom}`;
  return rimmed('gap', d);
}

export function hatch(x: number, y: number, width: number, height: number): Shape {
  return { element: 'rect', look: 'stage-hatch', attributes: { x, y, width, height } };
}

/** Where a new palette is heard; hollow while it is still to come, or was not proven. */
export function stem(x: number, foot: number, size: number, isHollow: boolean): Shape {
  const width = size * 0.42;
  const attributes = { x: x - width / 2, y: foot - size, width, height: size };
  return { element: 'rect', look: isHollow ? 'stage-stem hollow' : 'stage-stem', attributes };
}

/** What can break a bar, the gravest first: the map shows the first. Own order. */
export const BREAKS = [
  'gap',
  'lateChange',
  'outside',
  'interval',
  'late',
  'early',
  'extra',
] as const;
export type Break = (typeof BREAKS)[number];

/** A mark by its word, centred on a place: for the map and the legend. */
export function breakMark(kind: Break, x: number, y: number, size: number): readonly Shape[] {
  switch (kind) {
    case 'gap':
      return gapMark(x, y - size / 2, y + size / 2, size * 0.9);
    case 'lateChange':
      return [hatch(x - size / 2, y - size / 2, size, size)];
    case 'outside':
      return outsideMark(x, y, size);
    case 'interval':
      return intervalMark(x, y, size);
    case 'late':
      return wallMark(x - size * 0.65, y, size, 1);
    case 'early':
      return wallMark(x + size * 0.65, y, size, -1);
    case 'extra':
      return extraMark(x, y, size * 0.86);
  }
}
