/** What leaves, arrives and stays between two palettes. Tones from the scales as spelled in any theory book. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type PaletteChange,
  paletteChange,
  type ToneChange,
} from '../../../src/core/plan/index.ts';
import {
  type Palette,
  parseTone,
  pcMask,
  SCALES,
  scalePalette,
  tonePc,
} from '../../../src/core/theory/index.ts';
import { chordOf, givenOf } from '../../helpers/arbitrary-chart.ts';

function palette(chord: string, name: string): Palette {
  return givenOf(name, chordOf(chord)).palette;
}

function words({ leaving, arriving, common }: ToneChange): readonly string[] {
  return [leaving.join(' '), arriving.join(' '), common.join(' ')];
}

function change(from: readonly [string, string], to: readonly [string, string]): PaletteChange {
  return paletteChange(palette(...from), palette(...to));
}

describe('from one palette to the next', () => {
  // Computed by hand from the seven-letter spellings of the scales.
  test.each([
    [['Dm7', 'dorian'], ['G7', 'mixolydian'], '', '', 'G A B C D E F'],
    [['G7', 'mixolydian'], ['G7', 'altered'], 'A C D E', 'Ab Bb Db Eb', 'G Cb F'],
    [['Bbmaj7', 'ionian'], ['Cm7', 'dorian'], '', '', 'C D Eb F G A Bb'],
    [['Cmaj7', 'ionian'], ['Cmaj7', 'lydian'], 'F', 'F#', 'C D E G A B'],
    [['Gm7', 'minor pentatonic'], ['Gm7', 'dorian'], '', 'A E', 'G Bb C D F'],
  ] as const)('%s to %s: %s leave, %s arrive, %s stay', (from, to, leave, arrive, stay) => {
    const { rising, falling } = change(from, to);
    expect(words(rising)).toEqual([leave, arrive, stay]);
    expect(falling).toBeNull();
  });

  test('goes by pitch: a tone with another name stays, under its new name', () => {
    const { rising } = change(['E7', 'mixolydian'], ['Fm6', 'melodic minor']);
    expect(rising.common).toContain('Ab');
    expect(rising.leaving).not.toContain('G#');
  });

  test('tells a two-way palette apart by direction', () => {
    // Classical melodic minor: raised sixth and seventh rising, natural ones falling. Common practice.
    const twoWay = change(['Am6', 'melodic minor up and down'], ['Am7', 'aeolian']);
    expect(words(twoWay.rising)).toEqual(['F# G#', 'F G', 'A B C D E']);
    expect(twoWay.falling && words(twoWay.falling)).toEqual(['', '', 'A B C D E F G']);
    const into = change(['Am7', 'aeolian'], ['Am6', 'melodic minor up and down']);
    expect(words(into.rising)).toEqual(['F G', 'F# G#', 'A B C D E']);
    expect(into.falling && words(into.falling)).toEqual(['', '', 'A B C D E F G']);
  });

  test('is none where the pitch classes are the same, whatever they are called', () => {
    expect(change(['Dm7', 'dorian'], ['G7', 'mixolydian']).isChange).toBe(false);
    expect(change(['F#maj7', 'ionian'], ['Gbmaj7', 'ionian']).isChange).toBe(false);
    expect(change(['Cmaj7', 'ionian'], ['Cmaj7', 'lydian']).isChange).toBe(true);
  });
});

describe('any two palettes', () => {
  const arbitraryPalette = fc
    .tuple(fc.constantFrom(...SCALES), fc.integer({ min: -7, max: 7 }))
    .map(([scale, root]) => scalePalette(scale, root));
  const pcOf = (note: string): number => tonePc(parseTone(note) ?? Number.NaN);
  const maskOf = (notes: readonly string[]): number => pcMask(notes.map(pcOf));

  test('are made up of what leaves, arrives and stays, and nothing twice', () => {
    fc.assert(
      fc.property(arbitraryPalette, arbitraryPalette, (before, after) => {
        const { rising } = paletteChange(before, after);
        const { leaving, arriving, common } = rising;
        expect(maskOf([...leaving, ...common])).toBe(pcMask(before.pcs));
        expect(maskOf([...arriving, ...common])).toBe(pcMask(after.pcs));
        expect(leaving.length + common.length).toBe(before.pcs.length);
        expect(arriving.length + common.length).toBe(after.pcs.length);
      }),
    );
  });

  test('seen backwards swap what leaves and what arrives', () => {
    fc.assert(
      fc.property(arbitraryPalette, arbitraryPalette, (before, after) => {
        const there = paletteChange(before, after);
        const back = paletteChange(after, before);
        expect(back.rising.leaving).toEqual(there.rising.arriving);
        expect(back.rising.arriving).toEqual(there.rising.leaving);
        expect(back.falling?.leaving).toEqual(there.falling?.arriving);
        expect(back.isChange).toBe(there.isChange);
      }),
    );
  });

  test('change in some direction exactly when tones move there, for one-way palettes', () => {
    const oneWay = arbitraryPalette.filter(({ falling }) => falling === null);
    fc.assert(
      fc.property(oneWay, oneWay, (before, after) => {
        const { rising, isChange } = paletteChange(before, after);
        expect(isChange).toBe(rising.leaving.length + rising.arriving.length > 0);
      }),
    );
  });
});
