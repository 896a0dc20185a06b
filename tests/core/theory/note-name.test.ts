/** Names of keys on the keyboard. Scientific pitch notation with C4 = 60; the octave counts by letter. */

import { describe, expect, test } from 'vitest';
import { parseNoteName } from '../../../src/core/theory/index.ts';

describe('the name of a key', () => {
  test.each([
    ['C4', 60],
    ['D4', 62],
    ['A4', 69],
    ['B3', 59],
    ['Bb3', 58],
    ['B♭3', 58],
    ['F#5', 78],
    ['F##5', 79],
    ['F𝄪5', 79],
    ['Ebb4', 62],
    ['Cb5', 71],
    ['B#3', 60],
    ['C-1', 0],
    ['G9', 127],
    ['Fx9', 127],
    ['Abb9', 127],
    // Numbers are MIDI's own.
    ['0', 0],
    ['7', 7],
    ['60', 60],
    ['127', 127],
  ])('%s is %i', (text, midi) => {
    expect(parseNoteName(text)).toBe(midi);
  });

  test.each([
    ...['', 'C', '4C', 'H4', 'c4', 'C10', 'C--1', 'xxxF##4', ' C4', 'C4 '],
    ...['128', '1000', '-1', '6x', '60 ', '6.0', '999'],
    // Below and above the 128 keys of MIDI.
    ...['Cb-1', 'G#9', 'A9', 'B#9'],
  ])('%j is none', (text) => {
    expect(parseNoteName(text)).toBeNull();
  });
});
