/** Of a page of bars, only those hear of a drawing whose own has changed. */

import { expect, test } from 'vitest';
import { createBarDrawings } from '../../../src/renderer/chart-page/bar-drawings.ts';
import type { BarDrawing } from '../../../src/renderer/chart-page/line-model.ts';

function drawingOf(bar: number): BarDrawing {
  return { bar, chorus: 1, notes: [], strokes: [], gaps: [], changes: [] };
}

test('a bar is told when its drawing is another, is there or is gone; the others are left alone', () => {
  const drawings = createBarDrawings();
  const told: number[] = [];
  const ends = [1, 2, 3].map((bar) => drawings.watch(bar, () => told.push(bar)));
  const [first, second, third] = [drawingOf(1), drawingOf(2), drawingOf(3)];

  drawings.show(new Map([[1, first]]));
  expect(told.splice(0)).toEqual([1]);
  drawings.show(
    new Map([
      [1, first],
      [2, second],
    ]),
  );
  expect(told.splice(0)).toEqual([2]);
  drawings.show(
    new Map([
      [2, drawingOf(2)],
      [3, third],
    ]),
  );
  expect(told.splice(0)).toEqual([1, 2, 3]);
  expect([drawings.of(1), drawings.of(3)]).toEqual([undefined, third]);

  ends[2]?.();
  drawings.show(new Map());
  expect(told).toEqual([2]);
});
