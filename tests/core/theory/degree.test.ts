/** Degrees in tables. Intervals on the line of fifths counted by hand: a fifth is 1, an accidental is 7. */

import { describe, expect, test } from 'vitest';
import { degreeInterval, readDegrees } from '../../../src/core/theory/degree.ts';

describe('a degree', () => {
  test.each([
    ['1', 1, 0, 0],
    ['2', 2, 0, 2],
    ['3', 3, 0, 4],
    ['4', 4, 0, -1],
    ['5', 5, 0, 1],
    ['6', 6, 0, 3],
    ['7', 7, 0, 5],
    // An octave up it is the same interval.
    ['8', 8, 0, 0],
    ['9', 9, 0, 2],
    ['13', 13, 0, 3],
    ['b3', 3, -1, -3],
    ['bb7', 7, -2, -9],
    ['#11', 11, 1, 6],
  ])('%s is degree %i altered by %i, at %i', (word, degree, alter, interval) => {
    expect(readDegrees(word)).toEqual([{ degree, alter }]);
    expect(degreeInterval({ degree, alter })).toBe(interval);
  });

  test.each(['x', '', 'b', '1  2', '#b3', 'x3', '3x', '123'])('%j is no table of them', (row) => {
    expect(() => readDegrees(row)).toThrow(/^not a degree: /);
  });
});
