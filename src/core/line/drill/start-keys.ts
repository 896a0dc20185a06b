/** The keys a drill may begin on. */

import type { LineWish } from '../wish.ts';
import { keysIn } from './tones.ts';

export type StartWish = Pick<LineWish, 'register' | 'startMidi' | 'afterMidi'>;

/**
 * Of a set of pitch classes, the key asked for; else those nearest to the key that sounded before (another one than it,
 * the higher at a tie); else from the lowest upwards.
 */
export function startKeys(mask: number, wish: StartWish): readonly number[] {
  const keys = keysIn(mask, wish.register);
  const { startMidi } = wish;
  if (startMidi !== null) return keys.filter((midi) => midi === startMidi);
  const after = wish.afterMidi ?? null;
  if (after === null) return keys;
  return keys
    .filter((midi) => midi !== after)
    .sort((one, other) => Math.abs(one - after) - Math.abs(other - after) || other - one);
}
