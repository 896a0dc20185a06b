/** Whether two palettes are one and the same under the hand, whatever they are called. */

import { type Palette, paletteMask, pcMask } from '../theory/index.ts';

/** The same pitch classes in either direction, ordered from the same root. */
export function isSamePalette(one: Palette, other: Palette): boolean {
  return (
    one.pcs[0] === other.pcs[0] &&
    pcMask(one.pcs) === pcMask(other.pcs) &&
    paletteMask(one) === paletteMask(other) &&
    (one.falling === null) === (other.falling === null)
  );
}
