/** What a move costs after the move before it: turns, leaps, repeats, and the direction asked for. */

import { isWide, MOVE, MOVES, moveDirection } from './moves.ts';
import type { Weights } from './weights.ts';

/** In the place of a move before the first one. */
export const NO_MOVE = MOVES;

/** Costs by `before * MOVES + move`, `before` from 0 to `NO_MOVE`. `direction` is the wish's, −1 to 1. */
export function motionCosts(weights: Weights, direction: number): Float64Array {
  const costs = new Float64Array((MOVES + 1) * MOVES);
  for (let before = 0; before <= NO_MOVE; before++) {
    for (let move = 0; move < MOVES; move++) {
      costs[before * MOVES + move] = afterMove(before, move, weights) + leaning(move, direction);
    }
  }
  return costs;
}

/** Aims, all common practice without a source: leaps are recovered by a step or third the other way, few repeated notes. */
function afterMove(before: number, move: number, weights: Weights): number {
  if (before === NO_MOVE) return 0;
  if (move === MOVE.repeat) return before === MOVE.repeat ? weights.repeatAgain : 0;
  const turns = moveDirection(move) === -moveDirection(before);
  if (isWide(before)) return turns && !isWide(move) ? 0 : weights.leapNotTurned;
  return turns && !isWide(move) ? weights.turn : 0;
}

/** How much a direction asked for outright costs a step or third against it, and spares one along it. No source. */
const FULL_LEANING = 0.8;

/** A leap is left out: a line that runs mostly down has to leap up. */
function leaning(move: number, direction: number): number {
  return isWide(move) ? 0 : -FULL_LEANING * direction * moveDirection(move);
}
