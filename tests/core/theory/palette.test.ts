/** What a palette is called, and its notes as a set of bits. Worked by hand. */

import { describe, expect, test } from 'vitest';
import {
  paletteMask,
  paletteName,
  parsePaletteText,
  parseTone,
} from '../../../src/core/theory/index.ts';

function palette(text: string, root: string) {
  const read = parsePaletteText(text, parseTone(root) ?? 0);
  if (!read.ok) throw new Error(text);
  return read.value;
}

describe('a palette', () => {
  test.each([
    ['dorian', 'D', 'D dorian'],
    ['F melodic minor', 'E', 'F melodic minor'],
    ['C D Eb G', 'C', 'C D Eb G'],
  ])('%s over %s is called %s', (text, root, name) => {
    expect(paletteName(palette(text, root))).toBe(name);
  });

  test.each([
    ['C D Eb G', 'C', [0, 2, 3, 7]],
    ['major pentatonic', 'Bb', [10, 0, 2, 5, 7]],
    // Both ways: six notes, and the sixth and seventh in two forms.
    ['melodic minor up and down', 'A', [9, 11, 0, 2, 4, 5, 6, 7, 8]],
  ])('%s over %s holds the pitch classes of both its ways', (text, root, pcs) => {
    expect(paletteMask(palette(text, root))).toBe(pcs.reduce((sum, pc) => sum + 2 ** pc, 0));
  });
});
