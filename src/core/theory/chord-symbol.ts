/** Chord symbols: the structure a symbol stands for. The grammar lives in `parse-chord-symbol.ts`. */

import type { Interval, Tone } from './tone.ts';

/** What kind of chord it is, as far as choosing a scale is concerned. */
export const CHORD_FAMILIES = [
  'major',
  'minor',
  'dominant',
  'halfDiminished',
  'diminished',
  'augmented',
  'suspended',
  'power',
] as const;
export type ChordFamily = (typeof CHORD_FAMILIES)[number];

/** One tone of a chord: its degree as musicians count (1, 3, 5, 7, 9, 11, 13; also 2, 4, 6) and its interval above the root. */
export interface ChordTone {
  readonly degree: number;
  readonly interval: Interval;
}

export interface ChordSymbol {
  /** As the musician wrote it, trimmed. */
  readonly text: string;
  readonly root: Tone;
  /** The note after the slash, or null. */
  readonly bass: Tone | null;
  readonly family: ChordFamily;
  /** Ascending by degree, the root first. The bass note is not among them unless it belongs to the chord. */
  readonly tones: readonly ChordTone[];
  /**
   * True for `alt`: its tones are 1 3 b7, and b9 #9 b5 #5 are a colour to choose from, open through the palette, not
   * tones of the chord.
   */
  readonly altered: boolean;
}
