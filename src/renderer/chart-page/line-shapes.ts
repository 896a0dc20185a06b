/** One bar's piece of the line as shapes: an unbroken stroke where it holds, marks where it does not. Pure. */

import type { BarDrawing, ChangeDrawing, NoteDrawing } from './line-model.ts';
import { earlyPath, intervalPath, latePath, outsidePath } from './mark-shapes.ts';

/** Units of the drawing; the bar stretches it to its own size. */
export const WIDTH = 400;
export const HEIGHT = 100;
const MARGIN = 9;

/** An SVG element without anything in it; the attributes but for the class are those of its kind. */
export interface Shape {
  readonly element: 'ellipse' | 'line' | 'path' | 'polyline' | 'rect';
  readonly look: string;
  readonly attributes: Readonly<Record<string, number | string>>;
}

function px(x: number): number {
  return MARGIN + x * (WIDTH - MARGIN);
}
function py(y: number): number {
  return MARGIN + y * (HEIGHT - 2 * MARGIN);
}

/** The shapes of a bar, those behind first. */
export function shapesOf({ changes, gaps, strokes, notes }: BarDrawing): readonly Shape[] {
  return [
    ...changes.flatMap((change) => changeMark(change) ?? []),
    ...gaps.map((x) => line('line-gap', px(x), MARGIN, HEIGHT - MARGIN)),
    ...strokes.map((stroke): Shape => {
      const points = stroke.map(({ x, y }) => `${px(x)},${py(y)}`).join(' ');
      return { element: 'polyline', look: 'line-stroke', attributes: { points } };
    }),
    ...notes.flatMap(noteMarks),
  ];
}

function line(look: string, x: number, y1: number, y2: number): Shape {
  return { element: 'line', look, attributes: { x1: x, x2: x, y1, y2 } };
}

function ellipse(look: string, cx: number, cy: number, rx: number, ry: number): Shape {
  return { element: 'ellipse', look, attributes: { cx, cy, rx, ry } };
}

function path(look: string, d: string): Shape {
  return { element: 'path', look, attributes: { d } };
}

/** Where the new palette was proven, a stem at the foot; where the old one hung on, a hatch as wide as it lasted. */
function changeMark({ arrival, from, to }: ChangeDrawing): Shape | null {
  if (arrival === 'late') {
    const width = Math.max(6, px(to) - px(from));
    const attributes = { x: px(from), y: 0, width, height: HEIGHT };
    return { element: 'rect', look: 'line-old', attributes };
  }
  return arrival === 'onTime' ? line('line-proof', px(from) - 5, HEIGHT - 14, HEIGHT) : null;
}

/** A diamond is outside, a triangle an interval, a ring an extra, a bar to the left early, to the right late. */
function noteMarks({ faults, settled, ...place }: NoteDrawing): readonly Shape[] {
  const x = px(place.x);
  const y = py(place.y);
  const state = settled ? '' : ' note-provisional';
  const marks: Shape[] = [
    faults.includes('outside')
      ? path(`note-outside${state}`, outsidePath(x, y))
      : faults.includes('interval')
        ? path(`note-interval${state}`, intervalPath(x, y))
        : ellipse(`note-clean${state}`, x, y, 4, 4.5),
  ];
  if (faults.includes('extra')) marks.push(ellipse('note-timing', x, y, 10, 11));
  if (faults.includes('early')) marks.push(path('note-timing', earlyPath(x, y)));
  if (faults.includes('late')) marks.push(path('note-timing', latePath(x, y)));
  return marks;
}
