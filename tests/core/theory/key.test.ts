/** Keys as text. Signatures: the circle of fifths; the relative major of a minor key lies a minor third up. */

import { describe, expect, test } from 'vitest';
import { formatKey, keyFifths, parseKey, parseTone } from '../../../src/core/theory/index.ts';

describe('a key', () => {
  test.each([
    ['C', 'C', 'major', 0],
    ['Bb', 'Bb', 'major', -2],
    ['A♭ major', 'Ab', 'major', -4],
    ['F# maj', 'F#', 'major', 6],
    ['Am', 'A', 'minor', 0],
    ['F#m', 'F#', 'minor', 3],
    ['F♯-', 'F#', 'minor', 3],
    ['C minor', 'C', 'minor', -3],
    ['Ebmin', 'Eb', 'minor', -6],
    ['  G  m ', 'G', 'minor', -2],
  ])('%j is %s %s with %i sharps', (text, tonic, mode, fifths) => {
    const key = parseKey(text);
    expect(key).toEqual({ tonic: parseTone(tonic), mode });
    if (key === null) return;
    expect(keyFifths(key)).toBe(fifths);
    const written = formatKey(key);
    expect(written).toBe(mode === 'minor' ? `${tonic}m` : tonic);
    expect(parseKey(written)).toEqual(key);
  });

  test.each(['', 'H', 'c', 'bb', 'Cbb', 'C dorian', 'Cm7', 'in C', 'Cmajor7', 'm'])(
    '%j is none',
    (text) => {
      expect(parseKey(text)).toBeNull();
    },
  );
});
