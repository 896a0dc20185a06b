/**
 * What the shape of a line remembers: whether it just leapt, and which way; else how long it has run in one direction,
 * and how long its run before was. Small enough to search over, and enough to mix long runs with short ones, to turn
 * seldom twice in a row, and to fill leaps.
 */

import { isWide, MOVE, moveDirection } from './moves.ts';

export type Motion =
  | { readonly kind: 'rest' }
  | { readonly kind: 'leapt'; readonly direction: number }
  | {
      readonly kind: 'run';
      readonly direction: number;
      /** Moves so far, from 1; the last number stands for all longer runs. */
      readonly length: number;
      /** Length of the run before when it was this short, else 0. */
      readonly before: number;
    };

/** Runs are counted up to this length. */
export const LONGEST_COUNTED = 6;
/** Lengths of the run before are remembered up to this one. */
export const LONGEST_REMEMBERED = 3;

const DIRECTIONS = [1, -1];

function allMotions(): readonly Motion[] {
  const motions: Motion[] = [{ kind: 'rest' }];
  for (const direction of DIRECTIONS) motions.push({ kind: 'leapt', direction });
  for (const direction of DIRECTIONS) {
    for (let length = 1; length <= LONGEST_COUNTED; length++) {
      for (let before = 0; before <= LONGEST_REMEMBERED; before++) {
        motions.push({ kind: 'run', direction, length, before });
      }
    }
  }
  return motions;
}

/** Every motion; a motion's index is its place here, and `rest` is 0. */
export const MOTIONS: readonly Motion[] = allMotions();

/** The motion after a move. */
export function motionAfter(motion: Motion, move: number): Motion {
  if (move === MOVE.repeat) return motion;
  const direction = moveDirection(move);
  if (isWide(move)) return { kind: 'leapt', direction };
  if (motion.kind !== 'run') return { kind: 'run', direction, length: 1, before: 0 };
  const { length, before } = motion;
  if (direction === motion.direction) {
    return { kind: 'run', direction, length: Math.min(length + 1, LONGEST_COUNTED), before };
  }
  return { kind: 'run', direction, length: 1, before: length > LONGEST_REMEMBERED ? 0 : length };
}

/** Whether a move turns a run back. */
export function isTurn(motion: Motion, move: number): boolean {
  return motion.kind === 'run' && moveDirection(move) === -motion.direction;
}

/** The index of a motion. */
export function motionIndex(motion: Motion): number {
  return MOTIONS.findIndex(
    (other) =>
      other.kind === motion.kind &&
      (other.kind === 'rest' || (motion.kind !== 'rest' && other.direction === motion.direction)) &&
      (other.kind !== 'run' ||
        (motion.kind === 'run' &&
          other.length === motion.length &&
          other.before === motion.before)),
  );
}
