/** Whether two palettes are one and the same under the hand, whatever they are called. */

import { type Palette, pcMask } from '../theory/index.ts';

/** The same pitch classes each way, ordered from the same root. */
export function isSamePalette(one: Palette, other: Palette): boolean {
  const fallingMask = ({ falling, pcs }: Palette) => pcMask(falling?.pcs ?? pcs);
  return (
    one.pcs[0] === other.pcs[0] &&
    pcMask(one.pcs) === pcMask(other.pcs) &&
    fallingMask(one) === fallingMask(other)
  );
}
