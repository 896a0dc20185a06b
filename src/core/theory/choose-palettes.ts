/** Palettes for a chord where it stands. */
import type { ChordSymbol } from './chord-symbol.ts';
import type { Key } from './key.ts';
import type { Palette } from './palette.ts';
import { findScale, scalePalette } from './scales.ts';

export type PaletteColour = 'inside' | 'brighter' | 'darker' | 'tension';
export interface PaletteChoice {
  readonly palette: Palette;
  readonly reason: string;
  readonly colour: PaletteColour;
}
export interface ChoiceInput {
  readonly symbol: ChordSymbol;
  readonly key: Key;
  readonly previous: ChordSymbol | null;
  readonly next: ChordSymbol | null;
}
export function choosePalettes({ symbol }: ChoiceInput): readonly PaletteChoice[] {
  const names: Record<ChordSymbol['family'], string> = {
    major: 'ionian',
    minor: 'dorian',
    dominant: symbol.altered ? 'altered' : 'mixolydian',
    halfDiminished: 'locrian',
    diminished: 'whole-half diminished',
    augmented: 'lydian augmented',
    suspended: 'mixolydian',
    power: 'mixolydian',
  };
  const scale = findScale(names[symbol.family]);
  if (scale === null) throw new Error('unknown scale in the table of families');
  return [{ palette: scalePalette(scale, symbol.root), reason: 'by its kind', colour: 'inside' }];
}
