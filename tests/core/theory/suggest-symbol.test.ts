/**
 * Slips with one sure cure, each under a natural and an altered root where they differ. The slips are such as people
 * make, no source; the cure of each says the same chord.
 */

import { describe, expect, test } from 'vitest';
import { MAX_SYMBOL_LENGTH, parseChordSymbol } from '../../../src/core/theory/index.ts';

function suggestionFor(text: string): string | null {
  const result = parseChordSymbol(text);
  if (result.ok) throw new Error(`${text} reads`);
  return result.problems[0]?.suggestion ?? null;
}

describe('a slip with one cure', () => {
  test.each([
    // Accidentals as words, English and German.
    ['Fsharp7', 'F#7'],
    ['F sharp', 'F#'],
    ['F sharp m7', 'F#m7'],
    ['Fis7', 'F#7'],
    ['Dflat', 'Db'],
    ['E flat 7', 'Eb7'],
    ['Eflatmaj7', 'Ebmaj7'],
    ['Bes', 'Bb'],
    ['Bes7', 'Bb7'],
    // H is B.
    ['h7', 'B7'],
    ['C/H', 'C/B'],
    ['C7/h', 'C7/B'],
    // Small letters, spaces.
    ['C/eb', 'C/Eb'],
    ['C/f#', 'C/F#'],
    ['C 7 b 9', 'C7b9'],
    // What - and + after the root do not say.
    ['Bb-5', 'Bb(b5)'],
    ['Bb+11', 'Bb7#11'],
    ['Bbm+7', 'Bbm(maj7)'],
    // h for the half-diminished sign; a bare fourth; a flat or sharp after a root with one.
    ['Ch', 'Cø'],
    ['Bbh7', 'Bbø7'],
    ['F#4', 'F#sus4'],
    ['Ab#11', 'Ab(#11)'],
    // The first of two chords, without the slash between them.
    ['C6/9/E/G', 'C6/9'],
  ])('%s is %s', (text, cure) => {
    expect(suggestionFor(text)).toBe(cure);
  });

  test('is cured in the longest symbol that is read, and in none that is longer', () => {
    const longest = 'c#min13(b5,#5,b9,#9,#11,b13,#4,b6,add2,add4)/Bbb';
    expect(longest.length).toBe(MAX_SYMBOL_LENGTH);
    expect(suggestionFor(longest)).toBe(`C${longest.slice(1)}`);
    expect(suggestionFor(`C7${' '.repeat(MAX_SYMBOL_LENGTH)}b9`)).toBeNull();
  });
});

describe('the nearest spelling', () => {
  test.each([
    // What was understood and the bass stay.
    ['Cm7x/G', 'Cm7/G'],
    ['Gbm7b4/Db', 'Gbm7b5/Db'],
    // Four of seven characters are more than two fifths.
    ['C6/9xyzw', null],
    // No root, nothing to stand on.
    ['xC7', null],
    ['', null],
  ])('to %j is %s', (text, near) => {
    expect(suggestionFor(text)).toBe(near);
  });
});
