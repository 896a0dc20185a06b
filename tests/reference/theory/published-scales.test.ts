/**
 * Scales against their semitones. Sources, by the short names used below: ONM = OnMusic Dictionary, appendix "Modern Scale
 * Construction"; SAB = M. Sabatella, Almanac, who names D. Baker. Rotations of the parent scales were worked out apart.
 */

import { describe, expect, it } from 'vitest';
import { findScale, scalePalette, tonePc } from '../../../src/core/theory/index.ts';

function semitones(name: string): string {
  const scale = findScale(name);
  return scale === null ? 'unknown' : scale.intervals.map(tonePc).join(' ');
}

describe('published semitones', () => {
  it.each([
    // Common practice, no source; all but the last are rotations too.
    ['ionian', '0 2 4 5 7 9 11'],
    ['dorian', '0 2 3 5 7 9 10'],
    ['lydian', '0 2 4 6 7 9 11'],
    ['mixolydian', '0 2 4 5 7 9 10'],
    ['locrian', '0 1 3 5 6 8 10'],
    ['locrian natural 2', '0 2 3 5 6 8 10'],
    ['lydian dominant', '0 2 4 6 7 9 10'],
    ['whole-half diminished', '0 2 3 5 6 8 9 11'],
    // ONM
    ['aeolian', '0 2 3 5 7 8 10'],
    ['melodic minor', '0 2 3 5 7 9 11'],
    ['harmonic minor', '0 2 3 5 7 8 11'],
    ['half-whole diminished', '0 1 3 4 6 7 9 10'],
    ['whole tone', '0 2 4 6 8 10'],
    // Common practice, no source.
    ['augmented', '0 3 4 7 8 11'],
    // SAB
    ['bebop dominant', '0 2 4 5 7 9 10 11'],
    ['bebop major', '0 2 4 5 7 8 9 11'],
    // Common practice, no source: two uses of one name, told apart here.
    ['bebop dorian', '0 2 3 4 5 7 9 10'],
    ['bebop dorian natural 7', '0 2 3 5 7 9 10 11'],
    // Common practice, no source.
    ['bebop melodic minor', '0 2 3 5 7 8 9 11'],
    ['chromatic', '0 1 2 3 4 5 6 7 8 9 10 11'],
    // Rotations.
    ['phrygian', '0 1 3 5 7 8 10'],
    ['dorian b2', '0 1 3 5 7 9 10'],
    ['lydian augmented', '0 2 4 6 8 9 11'],
    ['mixolydian b6', '0 2 4 5 7 8 10'],
    ['altered', '0 1 3 4 6 8 10'],
    ['locrian natural 6', '0 1 3 5 6 9 10'],
    ['ionian #5', '0 2 4 5 8 9 11'],
    ['dorian #4', '0 2 3 6 7 9 10'],
    ['phrygian dominant', '0 1 4 5 7 8 10'],
    ['lydian #2', '0 3 4 6 7 9 11'],
    ['altered bb7', '0 1 3 4 6 8 9'],
    ['harmonic major', '0 2 4 5 7 8 11'],
    ['dorian b5', '0 2 3 5 6 9 10'],
    ['phrygian b4', '0 1 3 4 7 8 10'],
    ['lydian b3', '0 2 3 6 7 9 11'],
    ['mixolydian b2', '0 1 4 5 7 9 10'],
    ['lydian augmented #2', '0 3 4 6 8 9 11'],
    ['locrian bb7', '0 1 3 5 6 8 9'],
    // Two libraries agree.
    ['blues', '0 3 5 6 7 10'],
    ['major pentatonic', '0 2 4 7 9'],
    ['minor pentatonic', '0 3 5 7 10'],
    ['major blues', '0 2 3 4 7 9'],
  ])('%s is %s', (name, wanted) => {
    expect(semitones(name)).toBe(wanted);
  });

  it('the classical melodic minor of A rises with F# and G# and falls with G and F (ONM)', () => {
    const scale = findScale('melodic minor up and down');
    const palette = scale === null ? null : scalePalette(scale, 3);
    expect(palette?.notes.join(' ')).toBe('A B C D E F# G#');
    expect(palette?.falling?.notes.join(' ')).toBe('A B C D E F G');
  });

  it('there are 3 diminished, 2 whole-tone and 4 augmented sets of notes', () => {
    const sets = (name: string): number => {
      const scale = findScale(name);
      const roots = Array.from({ length: 12 }, (_, index) => index - 5);
      const found = roots.map((root) =>
        scale === null
          ? ''
          : scalePalette(scale, root)
              .pcs.toSorted((a, b) => a - b)
              .join(' '),
      );
      return new Set(found).size;
    };
    expect([sets('whole-half diminished'), sets('whole tone'), sets('augmented')]).toEqual([
      3, 2, 4,
    ]);
  });
});
