/**
 * Which readings are believed. One far from where the line goes is held back: five that agree with each other are a jump of
 * the clock, fewer are a slip of the reading and are dropped.
 */

import { median } from './median.ts';
import type { Reading } from './reading.ts';

/** So many far readings that agree are a jump, one that does not being allowed among them. */
const AGREEING = 5;
const LOOKED_AT = 6;
/** Far: missing the line by more than so many times the usual miss, and by more than the least. */
const USUAL_TIMES = 6;
export const LEAST_FAR_MS = 1.5;
/** Until the usual miss is known from so many readings, only what misses by more than this is far. */
export const TRAINING_READINGS = 40;
export const TRAINING_FAR_MS = 30;
/** How quickly the usual miss follows, and how much of it one reading may claim. */
const FOLLOW = 0.02;
const MOST_CLAIMED = 3;

export type GateVerdict =
  | { readonly kind: 'near' }
  /** Held back; the number of far readings in a row. */
  | { readonly kind: 'far'; readonly inARow: number }
  /** The clock lies so much higher than its line, ms; the readings that agree on it. */
  | { readonly kind: 'jump'; readonly jumpMs: number; readonly agreed: readonly Reading[] };

export interface Gate {
  /** Judges a reading by how far above the line it lies, ms. Exactly at the limit is near. */
  judge(reading: Reading, missMs: number): GateVerdict;
}

interface Far {
  readonly reading: Reading;
  readonly missMs: number;
}

export function createGate(): Gate {
  let training: readonly number[] = [];
  let usualMs: number | null = null;
  let far: readonly Far[] = [];

  function learn(missMs: number): void {
    if (usualMs !== null) {
      usualMs += FOLLOW * (Math.min(missMs, MOST_CLAIMED * usualMs) + 0.001 - usualMs);
      return;
    }
    training = [...training, missMs];
    if (training.length === TRAINING_READINGS) usualMs = median(training);
  }

  return {
    judge(reading, missMs) {
      const limitMs =
        usualMs === null ? TRAINING_FAR_MS : Math.max(LEAST_FAR_MS, USUAL_TIMES * usualMs);
      if (Math.abs(missMs) <= limitMs) {
        far = [];
        learn(Math.abs(missMs));
        return { kind: 'near' };
      }
      far = [...far, { reading, missMs }].slice(-LOOKED_AT);
      const middleMs = median(far.map((one) => one.missMs));
      const agreed = far.filter((one) => Math.abs(one.missMs - middleMs) <= limitMs);
      if (agreed.length < AGREEING) return { kind: 'far', inARow: far.length };
      far = [];
      return {
        kind: 'jump',
        jumpMs: median(agreed.map((one) => one.missMs)),
        agreed: agreed.map((one) => one.reading),
      };
    },
  };
}
