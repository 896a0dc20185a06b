/** Accidentals in print: in symbols, in the names of notes and keys, and in sentences that hold both words and names. */

import { expect, test } from 'vitest';
import { withSigns } from '../../../src/renderer/look/signs.ts';

test.each([
  ['Bb7b9', 'B♭7♭9'],
  ['Ebmaj7/Bb', 'E♭maj7/B♭'],
  ['F#m7b5', 'F♯m7♭5'],
  ['C7#9#5', 'C7♯9♯5'],
  ['Abm', 'A♭m'],
  ['Dbsus4', 'D♭sus4'],
  ['Bbdim', 'B♭dim'],
  ['Bb', 'B♭'],
  ['Bbb4', 'B♭♭4'],
  ['Fbb lydian', 'F♭♭ lydian'],
  ['C##', 'C♯♯'],
  ['G mixolydian b6', 'G mixolydian ♭6'],
  ['7bb7', '7♭♭7'],
])('%s is printed %s', (text, printed) => {
  expect(withSigns(text)).toBe(printed);
});

test.each([
  [
    'chorus 1, bar 7, beat 1: Bb7 → F7 (F mixolydian) late by 2 slots',
    'chorus 1, bar 7, beat 1: B♭7 → F7 (F mixolydian) late by 2 slots',
  ],
  ['Most often not: Ebm7 in bar 7; Ab in bar 10.', 'Most often not: E♭m7 in bar 7; A♭ in bar 10.'],
  ['Ab4 over F#7', 'A♭4 over F♯7'],
])('a sentence: %s', (text, printed) => {
  expect(withSigns(text)).toBe(printed);
});

test.each(['Ebbing', 'About a bar', 'Abbot', 'Drill bars 6 and 7 at 55'])(
  'words stay words: %s',
  (text) => {
    expect(withSigns(text)).toBe(text);
  },
);
