/** Intervals counted in steps of the palette. Source: `grading.md`, "Intervals". */

import { describe, expect, test } from 'vitest';
import { judgeInterval, viewPalette } from '../../../src/core/grading/index.ts';
import { midi, palette } from '../../helpers/hand-made.ts';

function verdict(over: ReturnType<typeof palette>, from: string, to: string): string {
  return judgeInterval(midi(from), midi(to), viewPalette(over), 'steps', 'flag');
}

describe('over a palette with wide steps', () => {
  const pentatonic = palette('minor pentatonic', 'C Eb F G Bb');

  test.each([
    ['C4', 'Eb4', 'open'],
    ['Eb4', 'C4', 'open'],
    ['Bb3', 'C4', 'open'],
    ['C4', 'F4', 'third'],
    ['G4', 'C5', 'third'],
    ['C5', 'G4', 'third'],
    ['C4', 'G4', 'leap'],
    ['Bb3', 'F4', 'leap'],
  ])('%s to %s is %s', (from, to, expected) => {
    expect(verdict(pentatonic, from, to)).toBe(expected);
  });

  test.each([
    ['C4', 'E4', 'third'],
    ['Db4', 'F4', 'third'],
    ['C4', 'Gb4', 'leap'],
    ['Gb4', 'C4', 'leap'],
    ['A3', 'D4', 'leap'],
  ])('%s to %s, one of them outside, is %s by its semitones alone', (from, to, expected) => {
    expect(verdict(pentatonic, from, to)).toBe(expected);
  });
});

test('a palette that differs rising and falling counts the steps of the direction moved', () => {
  const bothWays = palette('own', 'C D E F G A B', 'C E G B');
  expect(verdict(bothWays, 'G4', 'C5')).toBe('leap');
  expect(verdict(bothWays, 'C5', 'G4')).toBe('third');
  expect(verdict(bothWays, 'E4', 'C4')).toBe('open');
  expect(verdict(bothWays, 'C4', 'E4')).toBe('third');
});

test('notes of one’s own count upwards from the first, in whatever order they were named', () => {
  const own = palette('own', 'F C A E');
  expect(verdict(own, 'F4', 'A4')).toBe('open');
  expect(verdict(own, 'E4', 'F4')).toBe('open');
  expect(verdict(own, 'F4', 'C5')).toBe('third');
  expect(verdict(own, 'C4', 'A4')).toBe('leap');
});
