/** What is drawn of a bar of the line. Shapes as in the help page; no outside source. */

import { expect, test } from 'vitest';
import type { BarDrawing, NoteDrawing } from '../../../src/renderer/chart-page/line-model.ts';
import { shapesOf } from '../../../src/renderer/chart-page/line-shapes.ts';

function barWith(parts: Partial<BarDrawing>): BarDrawing {
  return { bar: 1, chorus: 1, notes: [], strokes: [], gaps: [], changes: [], ...parts };
}

function noteWith(parts: Partial<NoteDrawing>): NoteDrawing {
  return { slot: 0, midi: 60, x: 0, y: 0, faults: [], marks: [], settled: true, ...parts };
}

const looksOf = (drawing: BarDrawing): readonly string[] =>
  shapesOf(drawing).map(({ element, look }) => `${element} ${look}`);

test('each fault of a note has a shape of its own, and one note may have several', () => {
  expect(looksOf(barWith({ notes: [noteWith({})] }))).toEqual(['ellipse note-clean']);
  expect(looksOf(barWith({ notes: [noteWith({ faults: ['outside', 'late'] })] }))).toEqual([
    'path note-outside',
    'path note-timing',
  ]);
  expect(
    looksOf(barWith({ notes: [noteWith({ faults: ['interval', 'extra', 'early'] })] })),
  ).toEqual(['path note-interval', 'ellipse note-timing', 'path note-timing']);
});

test('a note that may still be judged otherwise is marked as such', () => {
  expect(looksOf(barWith({ notes: [noteWith({ settled: false })] }))).toEqual([
    'ellipse note-clean note-provisional',
  ]);
});

test('a proven change is a stem, a late one a hatch as wide as it lasted; an unproven one is left to words', () => {
  const change = { from: 0, to: 0.5, bySlots: 2, provenAt: null, toChord: 'G7' };
  const changes = (['onTime', 'late', 'unproven'] as const).map((arrival) => ({
    ...change,
    arrival,
  }));
  const shapes = shapesOf(barWith({ changes }));
  expect(shapes.map(({ look }) => look)).toEqual(['line-proof', 'line-old']);
  expect(shapes[1]?.attributes['width']).toBe(195.5);
});

test('what lies behind comes first: changes, gaps, the stroke, then the notes on it', () => {
  const drawing = barWith({
    notes: [noteWith({})],
    strokes: [
      [
        { x: 0, y: 0 },
        { x: 1, y: 1 },
      ],
    ],
    gaps: [0.5],
    changes: [{ arrival: 'onTime', from: 0, to: 0, bySlots: null, provenAt: null, toChord: 'G7' }],
  });
  expect(shapesOf(drawing).map(({ look }) => look)).toEqual([
    'line-proof',
    'line-gap',
    'line-stroke',
    'note-clean',
  ]);
  expect(shapesOf(drawing)[2]?.attributes).toEqual({ points: '9,9 400,91' });
});
