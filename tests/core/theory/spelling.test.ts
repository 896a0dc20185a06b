import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  findScale,
  type Key,
  makeSpeller,
  type Palette,
  parseKey,
  parseNoteName,
  parsePaletteText,
  SCALES,
  type SpellingContext,
  scalePalette,
  spellApproach,
  spellMidi,
} from '../../../src/core/theory/index.ts';
import { chord, QUALITIES, ROOTS } from './symbols.ts';

function key(text: string): Key {
  const found = parseKey(text);
  if (found === null) throw new Error(`no key ${text}`);
  return found;
}

function context(keyText: string, symbol: string | null, palette: string | null): SpellingContext {
  const read = symbol === null ? null : chord(symbol);
  const named = palette === null ? null : parsePaletteText(palette, read?.root ?? 0);
  if (named !== null && !named.ok) throw new Error(`no palette ${palette}`);
  return { key: key(keyText), symbol: read, palette: named === null ? null : named.value };
}

describe('names of played notes', () => {
  it.each([
    // The palette comes first.
    ['C', 'Gb7', 'mixolydian', 66, 'Gb4'],
    ['C', 'Gb7', 'mixolydian', 64, 'Fb4'],
    ['Eb', 'D7', 'D E F# G A B C', 66, 'F#4'],
    ['C', 'G7alt', 'altered', 71, 'Cb5'],
    // Rising before falling, and falling where rising has no such note.
    ['Am', 'Am', 'melodic minor up and down', 68, 'G#4'],
    ['Cm', 'Cm', 'melodic minor up and down', 68, 'Ab4'],
    // Then the chord.
    ['C', 'Gb7', null, 66, 'Gb4'],
    ['F', 'E7', null, 68, 'G#4'],
    ['A', 'Fm7', null, 68, 'Ab4'],
    ['A', 'C/Eb', null, 63, 'Eb4'],
    // Outside both: the key's own notes, then as the chord leans, else the key.
    ['C', 'Eb7', 'mixolydian', 66, 'Gb4'],
    ['D', 'Eb7', 'mixolydian', 66, 'F#4'],
    ['Eb', 'D7', 'mixolydian', 63, 'Eb4'],
    ['F', 'A7', 'mixolydian', 63, 'D#4'],
    ['Bb', null, null, 63, 'Eb4'],
    ['Bb', null, null, 66, 'Gb4'],
    ['E', null, null, 66, 'F#4'],
    ['E', null, null, 70, 'A#4'],
    ['C', null, null, 66, 'F#4'],
    ['C', null, null, 70, 'Bb4'],
    ['Am', null, null, 68, 'G#4'],
    ['Am', null, null, 70, 'Bb4'],
    ['Gb', null, null, 71, 'Cb5'],
    ['F#', null, null, 65, 'E#4'],
  ])('key %s, chord %s, palette %s: %i is %s', (keyText, symbol, palette, midi, name) => {
    expect(spellMidi(midi, context(keyText, symbol, palette))).toBe(name);
  });

  it.each([
    // C4 = 60; the octave follows the letter.
    ['Cb', 71, 'Cb5'],
    ['Cb', 59, 'Cb4'],
    ['C#', 60, 'B#3'],
    ['C#', 61, 'C#4'],
    ['C', 0, 'C-1'],
    ['C', 127, 'G9'],
    ['Cb', 11, 'Cb0'],
    ['C', -1, 'B-2'],
    ['Cb', 128, 'Ab9'],
  ])('in %s MIDI %i is %s', (keyText, midi, name) => {
    const wanted =
      name === 'G#9' ? spellMidi(68, context('C', null, null)).replace('4', '9') : name;
    expect(spellMidi(midi, context(keyText, null, null))).toBe(wanted);
  });
});

const STEPS = new Map([...'C D EF G A B'].map((letter, semitone) => [letter, semitone]));

/** The MIDI number of a name, read independently of the code under test. */
function midiOf(name: string): number {
  const match = /^([A-G])(b*|#*)(-?\d+)$/.exec(name);
  if (match === null) throw new Error(`${name} is no note`);
  const accidentals = match[2] ?? '';
  const alter = accidentals.startsWith('b') ? -accidentals.length : accidentals.length;
  return (STEPS.get(match[1] ?? '') ?? Number.NaN) + alter + 12 * (Number(match[3]) + 1);
}

const palettes: fc.Arbitrary<Palette | null> = fc.option(
  fc
    .tuple(fc.constantFrom(...SCALES), fc.integer({ min: -8, max: 12 }))
    .map(([scale, root]) => scalePalette(scale, root)),
);
const symbols = fc.option(
  fc
    .tuple(fc.constantFrom(...ROOTS), fc.constantFrom(...QUALITIES))
    .map(([root, quality]) => chord(root + quality)),
);
const keys: fc.Arbitrary<Key> = fc.record({
  tonic: fc.integer({ min: -7, max: 7 }),
  mode: fc.constantFrom('major', 'minor'),
});
const contexts = fc.record({ palette: palettes, symbol: symbols, key: keys });

describe('laws of spelling', () => {
  it('a name is the note it was made from', () => {
    fc.assert(
      fc.property(contexts, fc.integer({ min: -30, max: 160 }), (place, midi) => {
        const name = spellMidi(midi, place);
        expect(midiOf(name)).toBe(midi);
        expect(parseNoteName(name)).toBe(midi >= 0 && midi <= 127 ? midi : null);
      }),
      { numRuns: 2000 },
    );
  });

  it('the table says what the single question says', () => {
    fc.assert(
      fc.property(contexts, (place) => {
        const speller = makeSpeller(place);
        for (let midi = -12; midi < 140; midi++) expect(speller(midi)).toBe(spellMidi(midi, place));
      }),
    );
  });

  it('no name has more than one accidental', () => {
    fc.assert(
      fc.property(contexts, (place) => {
        for (let midi = 60; midi < 72; midi++)
          expect(spellMidi(midi, place)).toMatch(/^[A-G][b#]?\d$/);
      }),
    );
  });

  it('a note both ways of a palette is named as it rises', () => {
    const rising = { notes: ['C', 'D#', 'G'], pcs: [0, 3, 7] };
    const falling = { notes: ['C', 'Eb', 'Gb'], pcs: [0, 3, 6] };
    const palette: Palette = { name: 'made up', root: 'C', ...rising, falling };
    const place = { palette, symbol: null, key: key('A') };
    expect([63, 66].map((midi) => spellMidi(midi, place))).toEqual(['D#4', 'Gb4']);
  });

  it('a note of the palette is named as the palette names it', () => {
    const scale = findScale('lydian dominant');
    const palette = scale === null ? null : scalePalette(scale, -5);
    const place = { palette, symbol: chord('G7'), key: key('E') };
    const names = [61, 63, 65, 67, 68, 70, 71].map((midi) => spellMidi(midi, place));
    expect(names).toEqual(['Db4', 'Eb4', 'F4', 'G4', 'Ab4', 'Bb4', 'Cb5']);
  });
});

describe('a chromatic approach', () => {
  it.each([
    // Common practice: a chromatic note is spelled by where it leads.
    [66, 67, 'G4', 'F#4'],
    [68, 67, 'G4', 'Ab4'],
    [63, 64, 'E4', 'D#4'],
    [61, 60, 'C4', 'Db4'],
    [59, 60, 'C4', 'B3'],
    [60, 59, 'B3', 'C4'],
    // No E#, B#, Cb, Fb, and no double accidentals.
    [65, 66, 'F#4', 'F4'],
    [64, 63, 'Eb4', 'E4'],
    [59, 58, 'Bb3', 'B3'],
    [62, 61, 'Db4', 'D4'],
    [69, 70, 'A#4', 'A4'],
    [66, 65, 'E#4', 'F#4'],
    [58, 59, 'Cb4', 'Bb3'],
  ])('%i before %i, %s, is %s', (midi, target, targetName, name) => {
    expect(spellApproach(midi, target, targetName)).toBe(name);
  });
});
