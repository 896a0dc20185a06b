/** The door of `theory`: tones, keys, chord symbols, scales, palettes, spelling and the choice of palettes. */

export { choosePalettes, type PaletteChoice } from './choice/choose-palettes.ts';
export type { PaletteColour } from './choice/colour.ts';
export { type ChoiceInput, dominantLeadsToMinor } from './choice/place.ts';
export {
  chordNotes,
  chordPcs,
  formatChordSymbol,
  isChordTone,
  qualityText,
  transposeChordSymbol,
} from './chord-names.ts';
export {
  CHORD_FAMILIES,
  type ChordFamily,
  type ChordSymbol,
  type ChordTone,
} from './chord-symbol.ts';
export { formatKey, type Key, keyFifths, parseKey } from './key.ts';
export { parseNoteName } from './note-name.ts';
export {
  NOTES_NAME,
  type Palette,
  type PaletteTones,
  paletteMask,
  paletteName,
  paletteTones,
  pcMask,
} from './palette.ts';
export {
  formatPaletteText,
  type PaletteTextProblem,
  type PaletteTextProblemCode,
  parsePaletteText,
} from './palette-text.ts';
export { parseChordSymbol } from './parse-chord-symbol.ts';
export { plainShift } from './plain-root.ts';
export { findScale, nearestScaleName, SCALES, type Scale, scalePalette } from './scales.ts';
export { makeSpeller, type SpellingContext, spellApproach, spellMidi } from './spelling.ts';
export { MAX_SYMBOL_LENGTH, type SymbolProblem, type SymbolProblemCode } from './symbol-problem.ts';
export {
  formatTone,
  INTERVALS,
  type Interval,
  type IntervalName,
  type Letter,
  makeTone,
  parseTone,
  STEP_LETTERS,
  semitonesUp,
  simplifyTone,
  type Tone,
  toneAlter,
  toneLetter,
  tonePc,
} from './tone.ts';
