/** The shapes of faults below a staff, under the notes they belong to. */

import type { Fault } from '../../core/words.ts';
import { earlyPath, intervalPath, latePath, outsidePath } from '../chart-page/mark-shapes.ts';

const SVG = 'http://www.w3.org/2000/svg';

/** Draws what was wrong with one slot into a group, around a place. */
export function drawMarks(group: Element, x: number, y: number, faults: readonly Fault[]): void {
  const add = (className: string, name: 'path' | 'ellipse', attributes: object): void => {
    const shape = document.createElementNS(SVG, name);
    shape.setAttribute('class', className);
    for (const [key, value] of Object.entries(attributes)) shape.setAttribute(key, String(value));
    group.append(shape);
  };
  if (faults.includes('gap')) add('line-gap', 'path', { d: `M${x} ${y - 12}v24` });
  if (faults.includes('outside')) add('note-outside', 'path', { d: outsidePath(x, y) });
  else if (faults.includes('interval')) add('note-interval', 'path', { d: intervalPath(x, y) });
  if (faults.includes('early')) add('note-timing', 'path', { d: earlyPath(x, y) });
  if (faults.includes('late')) add('note-timing', 'path', { d: latePath(x, y) });
  if (faults.includes('extra')) {
    add('note-timing', 'ellipse', { cx: x, cy: y, rx: 10, ry: 11 });
  }
}
