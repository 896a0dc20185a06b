/**
 * Spellings of keys, roots and seven-letter scales. Source: the line of fifths worked out apart from this program and,
 * for the two transpositions of B flat 7, two unrelated libraries that agree, tonal 6.4.3 and teoria 2.5.0.
 */

import { describe, expect, it } from 'vitest';
import {
  formatTone,
  INTERVALS,
  keyFifths,
  parseKey,
  parsePaletteText,
  parseTone,
  spellMidi,
  transposeChordSymbol,
} from '../../../src/core/theory/index.ts';
import { chord } from '../../core/theory/symbols.ts';

function tone(name: string): number {
  const found = parseTone(name);
  if (found === null) throw new Error(`no tone ${name}`);
  return found;
}

describe('roots moved by an interval', () => {
  it.each([
    ['Bb7', 'm3', 'Db7'],
    ['F#', 'M2', 'G#'],
    ['B', 'm2', 'C'],
    ['D', 'A4', 'G#'],
    ['D', 'd5', 'Ab'],
    ['Ab', 'm3', 'Cb'],
    ['E', 'M3', 'G#'],
    ['C#', 'M6', 'A#'],
    ['Gb', 'M2', 'Ab'],
    // B double flat, shown by its simple name.
    ['Db', 'm6', 'A'],
  ] as const)('%s up %s is %s', (from, interval, to) => {
    expect(transposeChordSymbol(chord(from), INTERVALS[interval]).text).toBe(to);
  });
});

describe('keys', () => {
  it.each([
    ['C', 'Am', 0, ''],
    ['G', 'Em', 1, 'F#'],
    ['D', 'Bm', 2, 'F# C#'],
    ['A', 'F#m', 3, 'F# C# G#'],
    ['E', 'C#m', 4, 'F# C# G# D#'],
    ['B', 'G#m', 5, 'F# C# G# D# A#'],
    ['F#', 'D#m', 6, 'F# C# G# D# A# E#'],
    ['C#', 'A#m', 7, 'F# C# G# D# A# E# B#'],
    ['F', 'Dm', -1, 'Bb'],
    ['Bb', 'Gm', -2, 'Bb Eb'],
    ['Eb', 'Cm', -3, 'Bb Eb Ab'],
    ['Ab', 'Fm', -4, 'Bb Eb Ab Db'],
    ['Db', 'Bbm', -5, 'Bb Eb Ab Db Gb'],
    ['Gb', 'Ebm', -6, 'Bb Eb Ab Db Gb Cb'],
    ['Cb', 'Abm', -7, 'Bb Eb Ab Db Gb Cb Fb'],
  ])('%s and %s have signature %i', (major, minor, fifths, signature) => {
    for (const name of [major, minor]) {
      const key = parseKey(name);
      if (key === null) throw new Error(`no key ${name}`);
      expect(keyFifths(key)).toBe(fifths);
      const names = new Set(
        Array.from({ length: 12 }, (_, pc) =>
          spellMidi(60 + pc, { key, symbol: null, palette: null }).replace(/\d/, ''),
        ),
      );
      for (const note of signature.split(' ').filter((part) => part !== ''))
        expect([name, names.has(note)]).toEqual([name, true]);
    }
  });
});

describe('seven-letter spellings', () => {
  it.each([
    ['Db', 'mixolydian', 'Db Eb F Gb Ab Bb Cb'],
    ['B', 'lydian dominant', 'B C# D# E# F# G# A'],
    ['G', 'altered', 'G Ab Bb Cb Db Eb F'],
    ['D', 'locrian natural 2', 'D E F G Ab Bb C'],
    ['G', 'phrygian dominant', 'G Ab B C D Eb F'],
    ['F#', 'locrian', 'F# G A B C D E'],
    ['Eb', 'lydian', 'Eb F G A Bb C D'],
    ['Bb', 'dorian b2', 'Bb Cb Db Eb F G Ab'],
    ['Gb', 'major', 'Gb Ab Bb Cb Db Eb F'],
    ['F#', 'major', 'F# G# A# B C# D# E#'],
  ])('%s %s is %s', (root, name, notes) => {
    const read = parsePaletteText(name, tone(root));
    expect(read.ok ? read.value.notes.join(' ') : read.problems).toBe(notes);
  });

  it('G flat and F sharp major are one set under two names', () => {
    const pcs = ['Gb', 'F#'].map((root) => {
      const read = parsePaletteText('major', tone(root));
      return read.ok ? read.value.pcs : [];
    });
    expect(pcs).toEqual([
      [6, 8, 10, 11, 1, 3, 5],
      [6, 8, 10, 11, 1, 3, 5],
    ]);
    expect(formatTone(tone('Gb'))).not.toBe(formatTone(tone('F#')));
  });
});
