/** Whether two palettes are one and the same under the hand, whatever they are called. */

import { type Palette, pcMask } from '../theory/index.ts';

/** The same pitch classes each way: D dorian and G mixolydian are one, as they are to the grader. */
export function isSamePalette(one: Palette, other: Palette): boolean {
  const fallingMask = ({ falling, pcs }: Palette) => pcMask(falling?.pcs ?? pcs);
  return pcMask(one.pcs) === pcMask(other.pcs) && fallingMask(one) === fallingMask(other);
}
