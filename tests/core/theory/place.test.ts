/** What the rules ask about a chord where it stands, each question on both sides of its edge. Worked by hand. */

import { describe, expect, test } from 'vitest';
import {
  followsHalfDiminished,
  followsTwo,
  goesDownSemitone,
  goesToTonic,
  goesUpFourth,
  isInBlues,
  isResolution,
  isTwoOfCadence,
  isTwoOfNext,
  isTwoOfResolution,
  leadsOnToTonic,
  leadsToMajor,
  leadsToMinor,
  type Place,
} from '../../../src/core/theory/choice/place.ts';
import { placeIn } from './places.ts';

describe('a place', () => {
  test('counts semitones up: from the tonic, from the chord before, to the chord after', () => {
    expect(placeIn('Eb', 'Cm7 F7 Bb7')).toMatchObject({ degree: 2, fromPrevious: 5, toNext: 5 });
    expect(placeIn('Eb', 'F7 D7 C#7')).toMatchObject({ degree: 11, fromPrevious: 9, toNext: 11 });
    expect(placeIn('Eb', '_ Eb _')).toMatchObject({ degree: 0, fromPrevious: null, toNext: null });
  });

  test.each([
    ['C7', '1 3 5 b7'],
    ['Cmaj7#11', '1 3 5 7 #11'],
    ['Cdim7', '1 b3 b5 bb7'],
    ['Cm7b5', '1 b3 b5 b7'],
    ['C7b9', '1 3 5 b7 b9'],
  ])('names the tones of %s: %s', (symbol, names) => {
    expect([...placeIn('C', `_ ${symbol} _`).tones]).toEqual(names.split(' '));
  });

  test.each([
    // The white keys; the same for the relative minor; three flats; three sharps.
    ['C', [0, 2, 4, 5, 7, 9, 11]],
    ['Am', [0, 2, 4, 5, 7, 9, 11]],
    ['Cm', [0, 2, 3, 5, 7, 8, 10]],
    ['A', [1, 2, 4, 6, 8, 9, 11]],
  ] as const)('the notes of %s are those of its signature', (key, pcs) => {
    const mask = pcs.reduce<number>((sum, pc) => sum | (1 << pc), 0);
    expect(placeIn(key, '_ C _').keyMask).toBe(mask);
  });
});

/** Asks one question of many passages in C, or in C minor. */
function table(
  question: (place: Place) => boolean,
  rows: readonly (readonly [key: string, passage: string, answer: boolean])[],
): void {
  test.each(rows)('in %s, the middle of %s: %s', (key, passage, answer) => {
    expect(question(placeIn(key, passage))).toBe(answer);
  });
}

describe('goes up a fourth', () =>
  table(goesUpFourth, [
    ['C', '_ G7 C', true],
    ['C', '_ G7 Db', false],
    ['C', '_ G7 _', false],
  ]));

describe('goes down a semitone', () =>
  table(goesDownSemitone, [
    ['C', '_ Db7 C', true],
    ['C', '_ C7 Db', false],
    ['C', '_ Db7 _', false],
  ]));

describe('is where a dominant resolves', () =>
  table(isResolution, [
    ['C', 'A7 D _', true],
    ['C', 'Am7 D _', false],
    ['C', 'G7 D _', false],
    ['C', '_ D A7', false],
  ]));

describe('follows its half-diminished ii', () =>
  table(followsHalfDiminished, [
    ['C', 'Em7b5 A7 _', true],
    ['C', 'Em7 A7 _', false],
    ['C', 'Dm7b5 A7 _', false],
    ['C', '_ A7 Em7b5', false],
  ]));

describe('is the ii of a dominant that follows', () =>
  table(isTwoOfNext, [
    ['C', '_ Dm7 G7', true],
    ['C', '_ Dm7 G7sus4', true],
    ['C', '_ Dm7 Gmaj7', false],
    ['C', '_ Dm7 Gm7', false],
    ['C', '_ Dm7 A7', false],
    ['C', 'G7 Dm7 _', false],
  ]));

describe('leads to minor', () =>
  table(leadsToMinor, [
    // The chord a fourth up says it.
    ['C', '_ G7 Cm', true],
    ['C', '_ G7 Cm7b5', true],
    ['C', '_ G7 Cdim7', true],
    ['C', '_ G7 Cmaj7', false],
    ['C', '_ A7 D7', false],
    // Nothing follows, or something else: the key's own chord a fourth up says it.
    ['C', '_ G7 _', false],
    ['C', '_ G7 Am', false],
    ['C', '_ E7 _', true],
    ['C', '_ A7 _', true],
    ['C', '_ B7 Cmaj7', true],
    ['C', '_ D7 _', false],
    ['Cm', '_ G7 _', true],
    ['Cm', '_ C7 _', true],
    ['Cm', '_ Bb7 _', false],
    // II7 of a minor key, through V; in major the V is what follows.
    ['Cm', '_ D7 G7', true],
    ['C', '_ D7 G7', false],
  ]));

describe('stands in a blues', () =>
  table(isInBlues, [
    ['C', 'C7 F7 _', true],
    ['C', '_ F7 C7', true],
    ['C', 'C7 F7 C7', true],
    ['C', 'C7 G7 F7', true],
    ['C', 'Cmaj7 F7 Cm7', false],
    ['C', 'G7 F7 G7', false],
    ['C', '_ C7 _', false],
    ['C', 'F7 C7 F7', false],
    ['F', 'C7 F7 C7', false],
  ]));

describe('is the ii of a cadence', () =>
  table(isTwoOfCadence, [
    ['C', '_ Em7 A7 Dmaj7', true],
    ['C', '_ Em7 A7sus4 Dmaj7', true],
    ['C', '_ Em7 A7 D+', true],
    ['C', '_ Em7 A7 D7sus4', true],
    ['C', '_ Em7 A7 Dm7', false],
    ['C', '_ Em7 A7 D5', false],
    ['C', '_ Em7 A7 Ebmaj7', false],
    ['C', '_ Em7 A7 _', false],
    ['C', '_ Em7 Amaj7 D7', false],
    ['C', '_ Em7 Eb7 Dmaj7', false],
    // Other forms of ii and V are passed over.
    ['C', '_ Em7 Em9 A13 A7b9 Dmaj7', true],
    ['C', '_ Em7 Em7b5 A7 Dmaj7', true],
    ['C', '_ Em7 Emaj7 A7 Dmaj7', false],
  ]));

describe('leads to major', () =>
  table(leadsToMajor, [
    ['C', '_ A7 D', true],
    ['C', '_ A7 D7', true],
    ['C', '_ A7 Dm', false],
    ['C', '_ A7 D5', false],
    ['C', '_ A7 Abmaj7', true],
    ['C', '_ A7 Abm7', false],
    ['C', '_ A7 Cmaj7', false],
    ['C', '_ A7 _', false],
    // The V of a major key expects its I; a II7 of minor leads on to minor.
    ['C', '_ G7 _', true],
    ['C', '_ G7 Am7', true],
    ['Cm', '_ G7 _', false],
    ['Cm', '_ D7 G7', false],
    ['Cm', '_ D7 Db7', true],
  ]));

describe('is the ii of a V that resolves, to whatever chord', () =>
  table(isTwoOfResolution, [
    ['C', '_ Em7 A7 Dm7', true],
    ['C', '_ Em7 A7 D5', true],
    ['C', '_ Em7 A7 Em7', false],
    ['C', '_ Em7 A7 _', false],
    ['C', '_ Em7 Am7 D7', false],
  ]));

describe('follows its ii', () =>
  table(followsTwo, [
    ['C', 'Gm7 C7 _', true],
    ['C', 'Gm7b5 C7 _', true],
    ['C', 'G7 C7 _', false],
    ['C', 'Am7 C7 _', false],
    ['C', '_ C7 _', false],
  ]));

describe('goes to the tonic', () =>
  table(goesToTonic, [
    ['C', '_ Bb7 C', true],
    ['C', '_ Bb7 Cm7', true],
    ['C', '_ Bb7 Eb', false],
    ['Eb', '_ Bb7 Eb', true],
    ['C', '_ C7 _', false],
  ]));

describe('leads on to the tonic', () =>
  table(leadsOnToTonic, [
    ['C', '_ Fm7 Bb7 C', true],
    ['C', '_ Fm7 Bb7 Eb', false],
    ['Eb', '_ Fm7 Bb7 Eb', true],
    ['C', '_ Fm7 C _', false],
  ]));
