/** What a set of notes chosen by hand is called: the scales and chords that have just these notes, on any of them. */

import {
  type ChordSymbol,
  chordPcs,
  findScale,
  type Palette,
  paletteMask,
  parseChordSymbol,
  parseTone,
  pcMask,
  SCALES,
  scalePalette,
  type Tone,
  tonePc,
} from '../theory/index.ts';
import { chordEndingsOf, scaleNamesOf } from './tonal-dictionary.ts';

export interface SetName {
  readonly kind: 'scale' | 'chord';
  /** `D dorian`, `Am7`. */
  readonly text: string;
}

/**
 * The names of a palette's notes as a set: scales, then chords, each from the palette's first note upwards. A scale goes by
 * the name it has in chart text, one that chart text does not have by that of the library; a chord by a symbol that reads
 * back. Empty for a set without a name, and for a palette that differs rising and falling.
 */
export function setNames(palette: Palette): readonly SetName[] {
  if (palette.falling !== null) return [];
  const roots = palette.notes.flatMap((note) => {
    const root = parseTone(note);
    return root === null ? [] : [{ root, note }];
  });
  return [
    ...roots.flatMap(({ root, note }) => scaleOn(root, note, palette)),
    ...roots.flatMap(({ root, note }) => chordOn(root, note, palette)),
  ];
}

function scaleOn(root: Tone, note: string, palette: Palette): readonly SetName[] {
  const own = SCALES.find(
    (scale) =>
      scale.falling === null && hasSameNotes(palette, paletteMask(scalePalette(scale, root))),
  );
  const known = own?.name ?? scaleNamesOf(semitonesFrom(root, palette)).find(isNewName);
  return known === undefined ? [] : [{ kind: 'scale', text: `${note} ${known}` }];
}

/** A name under which chart text has another scale would mislead. */
function isNewName(name: string): boolean {
  return findScale(name) === null;
}

/** A triad is written by its root alone, and a major seventh as chart text has it: `maj7` before `M7`. */
function rank(ending: string): number {
  if (ending === '') return 0;
  return ending.includes('maj') ? 1 : 2;
}

const RAISED_FIFTH = 8;

/** A minor chord with a raised fifth is another chord over its third: nobody calls C over E `Em#5`. */
function isInverted({ family, tones }: ChordSymbol): boolean {
  return (
    family === 'minor' && tones.some((tone) => tone.degree === 5 && tone.interval === RAISED_FIFTH)
  );
}

function chordOn(root: Tone, note: string, palette: Palette): readonly SetName[] {
  const endings = chordEndingsOf(semitonesFrom(root, palette));
  const written = endings
    .toSorted((one, other) => rank(one) - rank(other))
    .find((ending) => {
      const read = parseChordSymbol(note + ending);
      if (!read.ok || isInverted(read.value)) return false;
      return hasSameNotes(palette, pcMask(chordPcs(read.value)));
    });
  return written === undefined ? [] : [{ kind: 'chord', text: note + written }];
}

function hasSameNotes(palette: Palette, mask: number): boolean {
  return paletteMask(palette) === mask;
}

function semitonesFrom(root: Tone, { pcs }: Palette): ReadonlySet<number> {
  return new Set(pcs.map((pc) => (pc - tonePc(root) + 12) % 12));
}
