/** The palettes that would also serve, sorted by how they sound beside the proposal. */

import type { AlternativePalette } from '../chart/index.ts';
import type { PaletteColour } from '../theory/index.ts';

/** The colours from the nearest to the farthest. The order is our own. */
export const PALETTE_COLOURS = [
  'inside',
  'brighter',
  'darker',
  'tension',
] as const satisfies readonly PaletteColour[];

export interface AlternativeGroup {
  readonly colour: PaletteColour;
  /** At least one, ranked as they came. */
  readonly alternatives: readonly AlternativePalette[];
}

/** The alternatives of a chord by colour; a colour that none of them has is left out. */
export function groupAlternatives(
  alternatives: readonly AlternativePalette[],
): readonly AlternativeGroup[] {
  return PALETTE_COLOURS.map((colour) => ({
    colour,
    alternatives: alternatives.filter((one) => one.colour === colour),
  })).filter(({ alternatives: own }) => own.length > 0);
}
