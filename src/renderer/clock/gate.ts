/**
 * Which readings are believed. One far from where the line goes is held back: five such in a row that agree with each other
 * are a jump of the clock, fewer are a slip of the reading and are dropped.
 */

import { median } from './median.ts';

/** So many far readings in a row that agree are a jump. */
export const AGREEING = 5;
/** Far: missing the line by more than so many times the usual miss, and by more than the least. */
const USUAL_TIMES = 6;
export const LEAST_FAR_MS = 1.5;
/** Until the usual miss is known from so many readings, only what misses by more than this is far. */
const TRAINING_READINGS = 40;
export const TRAINING_FAR_MS = 30;
/** How quickly the usual miss follows, and how much of it one reading may claim. */
const FOLLOW = 0.02;
const MOST_CLAIMED = 3;

export type GateVerdict =
  | { readonly kind: 'near' }
  /** Held back; the number of far readings in a row. */
  | { readonly kind: 'far'; readonly inARow: number }
  /** The clock lies so much higher than its line, ms. The last `AGREEING` readings say so. */
  | { readonly kind: 'jump'; readonly jumpMs: number };

export interface Gate {
  /** Judges a reading by how far above the line it lies, ms. */
  judge(missMs: number): GateVerdict;
}

export function createGate(): Gate {
  let training: readonly number[] = [];
  let usualMs: number | null = null;
  let far: readonly number[] = [];

  function learn(missMs: number): void {
    if (usualMs !== null) {
      usualMs += FOLLOW * (Math.min(missMs, MOST_CLAIMED * usualMs) + 0.001 - usualMs);
      return;
    }
    training = [...training, missMs];
    if (training.length === TRAINING_READINGS) usualMs = median(training);
  }

  return {
    judge(missMs) {
      const limitMs =
        usualMs === null ? TRAINING_FAR_MS : Math.max(LEAST_FAR_MS, USUAL_TIMES * usualMs);
      if (Math.abs(missMs) <= limitMs) {
        far = [];
        learn(Math.abs(missMs));
        return { kind: 'near' };
      }
      far = [...far, missMs].slice(-AGREEING);
      const isAgreed = Math.max(...far) - Math.min(...far) <= 2 * limitMs;
      if (far.length < AGREEING || !isAgreed) return { kind: 'far', inARow: far.length };
      const jumpMs = median(far);
      far = [];
      return { kind: 'jump', jumpMs };
    },
  };
}
