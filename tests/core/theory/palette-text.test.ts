import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatPaletteText,
  parsePaletteText,
  parseTone,
  SCALES,
  scalePalette,
  type Tone,
  tonePc,
} from '../../../src/core/theory/index.ts';
import { ROOTS } from './symbols.ts';

function tone(name: string): Tone {
  const found = parseTone(name);
  if (found === null) throw new Error(`no tone ${name}`);
  return found;
}

function read(text: string, root: string) {
  const result = parsePaletteText(text, tone(root));
  if (!result.ok) throw new Error(`${text}: ${JSON.stringify(result.problems)}`);
  return result.value;
}

function problems(text: string, root = 'C') {
  const result = parsePaletteText(text, tone(root));
  return result.ok ? [] : result.problems;
}

describe('palette text', () => {
  it('names a scale on the root of its chord', () => {
    const palette = read('phrygian dominant', 'G');
    expect(palette.name).toBe('phrygian dominant');
    expect(palette.root).toBe('G');
    expect(palette.notes).toEqual(['G', 'Ab', 'B', 'C', 'D', 'Eb', 'F']);
    expect(palette.pcs).toEqual([7, 8, 11, 0, 2, 3, 5]);
  });

  it('names a scale on another root', () => {
    const palette = read('F melodic minor', 'E');
    expect(palette.root).toBe('F');
    expect(palette.notes).toEqual(['F', 'G', 'Ab', 'Bb', 'C', 'D', 'E']);
    expect(read('B♭ dorian', 'C').root).toBe('Bb');
  });

  it('is the notes themselves, sorted upwards from the root of the chord', () => {
    const palette = read('G A Bb C D Eb F#', 'C');
    expect(palette.name).toBe('notes');
    expect(palette.root).toBe('C');
    expect(palette.notes).toEqual(['C', 'D', 'Eb', 'F#', 'G', 'A', 'Bb']);
    expect(palette.falling).toBeNull();
  });

  it('begins with its first note where the root of the chord is missing', () => {
    expect(read('G, A, Bb, D', 'C').notes).toEqual(['G', 'A', 'Bb', 'D']);
    expect(read('D Bb A G', 'C').notes).toEqual(['D', 'G', 'A', 'Bb']);
  });

  it('knows the root under its other name', () => {
    const palette = read('C# E G#', 'Db');
    expect([palette.root, palette.notes]).toEqual(['C#', ['C#', 'E', 'G#']]);
  });

  it('falls differently where the scale does', () => {
    expect(read('melodic minor up and down', 'A').falling?.notes).toEqual([
      ...['A', 'B', 'C', 'D', 'E', 'F', 'G'],
    ]);
  });
});

describe('palette text that does not read', () => {
  it.each([
    ['', 'empty', 0, '', null],
    ['  ', 'empty', 0, '', null],
    ['mixolidian', 'scale', 0, 'mixolidian', 'mixolydian'],
    ['  mixolidian', 'scale', 2, 'mixolidian', 'mixolydian'],
    ['F melodick minor', 'scale', 2, 'melodick minor', 'F melodic minor'],
    ['f melodic minor', 'scale', 0, 'f melodic minor', 'F melodic minor'],
    ['constructor', 'scale', 0, 'constructor', null],
    ['C', 'tooFew', 0, 'C', null],
    ['C D E d', 'note', 6, 'd', 'D'],
    ['C D E H', 'note', 6, 'H', null],
    ['C D E D', 'twice', 6, 'D', null],
    ['C D# E Eb', 'twice', 7, 'Eb', null],
  ])('%j', (text, code, offset, words, suggestion) => {
    expect(problems(text)).toMatchObject([{ code, offset, read: words, suggestion }]);
  });

  it('names all of its bad notes', () => {
    expect(problems('C D x D y').map(({ offset }) => offset)).toEqual([4, 6, 8]);
  });

  it('may be long enough for twelve notes, and not endless', () => {
    expect(problems('C C# D D# E F F# G G# A A# B')).toEqual([]);
    const long = problems('C D '.repeat(100_000));
    expect(long.map(({ code }) => code)).toEqual(['tooLong']);
    expect(long[0]?.read.length).toBeLessThanOrEqual(80);
  });
});

const roots = fc.constantFrom(...ROOTS);

describe('laws of palette text', () => {
  it('a scale on any root, written for any chord, reads back', () => {
    fc.assert(
      fc.property(fc.constantFrom(...SCALES), roots, roots, (scale, root, chordRoot) => {
        const palette = scalePalette(scale, tone(root));
        const text = formatPaletteText(palette, tone(chordRoot));
        expect(text).toBe(root === chordRoot ? scale.name : `${root} ${scale.name}`);
        expect(read(text, chordRoot)).toEqual(palette);
      }),
      { numRuns: 500 },
    );
  });

  it('notes written for the same chord read back', () => {
    const notes = fc.uniqueArray(roots, {
      minLength: 2,
      maxLength: 12,
      selector: (name) => tonePc(tone(name)),
    });
    fc.assert(
      fc.property(notes, roots, (names, chordRoot) => {
        const palette = read(names.join(' '), chordRoot);
        expect([...palette.notes].sort()).toEqual([...names].sort());
        expect(read(formatPaletteText(palette, tone(chordRoot)), chordRoot)).toEqual(palette);
      }),
    );
  });

  it('never throws, and a problem stands where its text is', () => {
    const words = fc.oneof(
      fc.constantFrom(...ROOTS, ...SCALES.map(({ name }) => name), 'f', 'x', '♭', '  ', ','),
      fc.string({ unit: 'grapheme', maxLength: 4 }),
    );
    const texts = fc.array(words, { maxLength: 6 }).map((parts) => parts.join(' '));
    fc.assert(
      fc.property(texts, roots, (text, root) => {
        for (const { offset, read: words } of problems(text, root))
          expect(text.slice(offset).startsWith(words)).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });

  it('a suggestion reads', () => {
    const slip = fc
      .constantFrom(...SCALES.map(({ name }) => name))
      .chain((name) => fc.nat(name.length - 1).map((at) => name.slice(0, at) + name.slice(at + 1)));
    fc.assert(
      fc.property(slip, fc.constantFrom('', 'F# ', 'f '), (name, before) => {
        for (const { suggestion } of problems(before + name)) {
          expect(suggestion).not.toBeNull();
          expect(problems(suggestion ?? '')).toEqual([]);
        }
      }),
    );
  });
});
