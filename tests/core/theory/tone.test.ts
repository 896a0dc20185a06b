/** Tones as text: every way to write an accidental is read, one is written. Fifths counted by hand on the line of fifths. */

import { describe, expect, test } from 'vitest';
import { formatTone, makeTone, parseTone, toneAlter } from '../../../src/core/theory/tone.ts';

/** F C G D A E B lie at −1 to 5; an accidental is seven fifths. */
const F = -1;

describe('a tone', () => {
  test.each([
    ['F', F, 'F'],
    ['C', 0, 'C'],
    ['B', 5, 'B'],
    ['Fb', F - 7, 'Fb'],
    ['F♭', F - 7, 'Fb'],
    ['F#', F + 7, 'F#'],
    ['F♯', F + 7, 'F#'],
    ['Fbb', F - 14, 'Fbb'],
    ['F♭♭', F - 14, 'Fbb'],
    ['F𝄫', F - 14, 'Fbb'],
    ['F##', F + 14, 'F##'],
    ['F♯♯', F + 14, 'F##'],
    ['Fx', F + 14, 'F##'],
    ['F𝄪', F + 14, 'F##'],
  ])('%s lies at %s and is written %s', (text, tone, written) => {
    expect(parseTone(text)).toBe(tone);
    expect(formatTone(tone)).toBe(written);
  });

  test.each(['', 'H', 'c', 'Cbbb', 'C#b', ' C', 'C4'])('%j is none', (text) => {
    expect(parseTone(text)).toBeNull();
  });

  test('is a letter and an accidental', () => {
    expect([makeTone('B', -1), makeTone('F', 1), makeTone('D', 0)]).toEqual([-2, 6, 2]);
    expect([-9, -2, 0, 6, 14].map(toneAlter)).toEqual([-2, -1, 0, 1, 2]);
  });
});
