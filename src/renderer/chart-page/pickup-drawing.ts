/** What was played in the pickup, drawn in its short bar as the line is in the others, without verdicts. Pure. */

import { type Form, PICKUP_BAR } from '../../core/chart/index.ts';
import type { PickupNote } from '../../core/score/index.ts';
import type { BarDrawing, NoteDrawing, Point, Register } from './line-model.ts';

/** A beat is cut into so many. */
const TWELFTHS = 12;

/** Draws the notes of a pickup; a stroke joins those that follow each other. Undefined without any. */
export function drawPickup(
  { pickup }: Pick<Form, 'pickup'>,
  played: readonly PickupNote[],
  { low, high }: Register,
): BarDrawing | undefined {
  if (pickup === null || played.length === 0) return undefined;
  const length = Math.ceil(pickup.beats) * TWELFTHS;
  const notes = played.map(
    ({ at, midi }, index): NoteDrawing => ({
      ...{ slot: index, midi, faults: [], marks: [], settled: true },
      x: 1 + at / length,
      y: 1 - (midi - low) / (high - low),
    }),
  );
  const strokes: Point[][] = [];
  notes.forEach(({ x, y }, index) => {
    const before = played[index - 1];
    const follows = before !== undefined && before.at + before.length === played[index]?.at;
    const last = strokes.at(-1);
    if (follows && last !== undefined) last.push({ x, y });
    else strokes.push([{ x, y }]);
  });
  return {
    ...{ bar: PICKUP_BAR, chorus: 1, notes, gaps: [], changes: [] },
    strokes: strokes.filter((stroke) => stroke.length > 1),
  };
}
