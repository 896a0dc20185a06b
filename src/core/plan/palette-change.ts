/** What changes under the hand from one palette to the next: which tones leave, which arrive, which stay. */

import { type Palette, type PaletteTones, paletteMask, pcMask } from '../theory/index.ts';

/** Tones of one direction, each list rising from the root of the palette that spells it. */
export interface ToneChange {
  /** Only in the palette before, spelled as it spells them. */
  readonly leaving: readonly string[];
  /** Only in the palette after. */
  readonly arriving: readonly string[];
  /** In both, spelled by the palette after: that is how they are met from here on. */
  readonly common: readonly string[];
}

export interface PaletteChange {
  readonly rising: ToneChange;
  /** The way down; null where neither palette has a form of its own for it. */
  readonly falling: ToneChange | null;
  /**
   * False where both are the same pitch classes, whatever they are called. As the grader counts changes: a two-way
   * palette with all the tones of both its forms.
   */
  readonly isChange: boolean;
}

/** The change from one palette to another. Tones are compared by pitch: G# and Ab are one, and no change. */
export function paletteChange(before: Palette, after: Palette): PaletteChange {
  const isTwoWay = before.falling !== null || after.falling !== null;
  return {
    rising: toneChange(before, after),
    falling: isTwoWay ? toneChange(before.falling ?? before, after.falling ?? after) : null,
    isChange: paletteMask(before) !== paletteMask(after),
  };
}

function toneChange(before: PaletteTones, after: PaletteTones): ToneChange {
  return {
    leaving: notesOf(before, ~pcMask(after.pcs)),
    arriving: notesOf(after, ~pcMask(before.pcs)),
    common: notesOf(after, pcMask(before.pcs)),
  };
}

/** The notes whose pitch classes are in a bit set. */
function notesOf({ notes, pcs }: PaletteTones, mask: number): readonly string[] {
  return notes.filter((_, index) => ((mask >> (pcs[index] ?? 0)) & 1) === 1);
}
