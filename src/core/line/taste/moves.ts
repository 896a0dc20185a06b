/** A melodic move by its size and direction, as the costs of a line's shape tell moves apart. */

import type { PaletteView } from '../../grading/index.ts';
import { paletteSteps } from '../../grading/palette-view.ts';

/** Moves by index: a repeat, then for each size the way up and the way down. */
export const MOVE = {
  repeat: 0,
  stepUp: 1,
  stepDown: 2,
  thirdUp: 3,
  thirdDown: 4,
  wideUp: 5,
  wideDown: 6,
} as const;
export const MOVES = 7;

/**
 * The move between two keys: a step is one palette step or up to 2 semitones, a third two or up to 4, else it is wide;
 * the same borders as the levels have. Source: `grading.md`, "Intervals".
 */
export function moveBetween(fromMidi: number, toMidi: number, palette: PaletteView | null): number {
  if (fromMidi === toMidi) return MOVE.repeat;
  const semitones = Math.abs(toMidi - fromMidi);
  const steps = palette === null ? null : paletteSteps(palette, fromMidi, toMidi);
  const up = toMidi > fromMidi;
  if (semitones <= 2 || steps === 1) return up ? MOVE.stepUp : MOVE.stepDown;
  if (semitones <= 4 || steps === 2) return up ? MOVE.thirdUp : MOVE.thirdDown;
  return up ? MOVE.wideUp : MOVE.wideDown;
}

/** 1 up, −1 down, 0 for a repeat. */
export function moveDirection(move: number): number {
  if (move === MOVE.repeat) return 0;
  return move % 2 === 1 ? 1 : -1;
}

export function isWide(move: number): boolean {
  return move >= MOVE.wideUp;
}
