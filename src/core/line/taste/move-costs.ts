/** What the shape of a line costs, move by move: turns, runs, leaps and repeats. */

import {
  isTurn,
  LONGEST_COUNTED,
  MOTIONS,
  type Motion,
  motionAfter,
  motionIndex,
} from './motion.ts';
import { isWide, MOVE, MOVES, moveDirection } from './moves.ts';
import type { Weights } from './weights.ts';

/** For each motion and move (`motion * MOVES + move`): the motion after it, its cost, and 1 where it turns a run. */
export interface MoveCosts {
  readonly after: Int32Array;
  readonly cost: Float64Array;
  readonly turns: Uint8Array;
}

/** Lays the costs out for all motions and moves. */
export function moveCosts(weights: Weights): MoveCosts {
  const cells = MOTIONS.length * MOVES;
  const after = new Int32Array(cells);
  const cost = new Float64Array(cells);
  const turns = new Uint8Array(cells);
  MOTIONS.forEach((motion, index) => {
    for (let move = 0; move < MOVES; move++) {
      const cell = index * MOVES + move;
      after[cell] = motionIndex(motionAfter(motion, move));
      cost[cell] = shapeCost(motion, move, weights);
      turns[cell] = isTurn(motion, move) ? 1 : 0;
    }
  });
  return { after, cost, turns };
}

/**
 * The cost of a move after a motion. Aims, all common practice without a source: few see-saws, long and short runs mixed,
 * no run without end, leaps filled by step the other way, few repeated notes.
 */
function shapeCost(motion: Motion, move: number, weights: Weights): number {
  if (move === MOVE.repeat) return weights.repeat;
  if (motion.kind === 'rest') return 0;
  const onward = moveDirection(move) === motion.direction;
  if (motion.kind === 'leapt') {
    if (isWide(move)) return weights.leapAfterLeap + (onward ? weights.leapNotTurned : 0);
    return onward ? weights.leapNotTurned : 0;
  }
  if (onward) return motion.length === LONGEST_COUNTED ? weights.longRun : 0;
  const again = motion.length === motion.before ? weights.sameRunAgain : 0;
  return (weights.turnAfter[motion.length - 1] ?? 0) + again;
}
