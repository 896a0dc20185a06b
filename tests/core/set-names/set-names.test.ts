/** Names of sets. Scales by the degrees of the catalogue, chords by common practice, no source. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { setNames } from '../../../src/core/set-names/index.ts';
import {
  chordPcs,
  type Palette,
  paletteMask,
  parseChordSymbol,
  parsePaletteText,
  pcMask,
} from '../../../src/core/theory/index.ts';

function palette(text: string): Palette {
  const read = parsePaletteText(text, 0);
  if (!read.ok) throw new Error(`no palette ${text}`);
  return read.value;
}

const namesOf = (text: string) => setNames(palette(text)).map((name) => name.text);

describe('a set chosen by hand', () => {
  test('of seven notes is the scales that have them, on each of them', () => {
    const scales = setNames(palette('C D Eb F G A Bb')).filter(({ kind }) => kind === 'scale');
    expect(scales.map(({ text }) => text)).toEqual([
      'C dorian',
      'D phrygian',
      'Eb lydian',
      'F mixolydian',
      'G aeolian',
      'A locrian',
      'Bb ionian',
    ]);
    expect(namesOf('G Ab Bb B Db Eb F')).toContain('G altered');
  });

  test('of few notes is the chords, inversions by their own root', () => {
    expect(namesOf('C E G')).toEqual(['C']);
    expect(namesOf('C E G A')).toEqual(['C6', 'Am7']);
    expect(namesOf('D F Ab C')).toEqual(['Dm7b5', 'Fm6']);
    expect(namesOf('C E G# B')).toContain('Cmaj7#5');
    expect(namesOf('C E G B')).toEqual(['Cmaj7']);
  });

  test('may be a scale that chart text has no word for, by the library’s name', () => {
    // The Hungarian minor: harmonic minor with a raised fourth.
    const names = setNames(palette('C D Eb F# G Ab B'));
    expect(names.map(({ kind, text }) => `${kind}: ${text}`)).toContain('scale: C hungarian minor');
  });

  test('has no name where nobody gave it one', () => {
    expect(namesOf('C C#')).toEqual([]);
    expect(namesOf('C Db D Eb E')).toEqual([]);
  });

  test('is not asked of a palette that differs rising and falling', () => {
    expect(namesOf('melodic minor up and down')).toEqual([]);
  });
});

test('every name has just the notes of the set', () => {
  const sets = fc.uniqueArray(fc.integer({ min: 0, max: 11 }), { minLength: 2, maxLength: 9 });
  const NOTES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
  fc.assert(
    fc.property(sets, (pcs) => {
      const own = palette(pcs.map((pc) => NOTES[pc]).join(' '));
      for (const { kind, text } of setNames(own)) {
        if (kind === 'chord') {
          const read = parseChordSymbol(text);
          expect(read.ok && pcMask(chordPcs(read.value))).toBe(paletteMask(own));
        } else {
          const read = parsePaletteText(text, 0);
          if (read.ok) expect(paletteMask(read.value)).toBe(paletteMask(own));
        }
      }
    }),
    { numRuns: 1000, seed: 20_261_130 },
  );
});
