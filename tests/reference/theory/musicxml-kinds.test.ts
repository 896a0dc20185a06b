/**
 * Chord symbols against the kinds of MusicXML 4.0 (W3C Music Notation Community Group, 2021, `kind-value` in
 * musicxml.xsd), where a symbol means what the kind means. Contents of a kind are given there in words; the pitch classes
 * were worked out apart. Left out: kinds without contents (Neapolitan, Italian, French, German, pedal, Tristan, other,
 * none), and dominant-13th and major-13th, which hold the eleventh that a 13 leaves out in jazz practice.
 */

import { describe, expect, it } from 'vitest';
import { chordPcs } from '../../../src/core/theory/index.ts';
import { chord, ROOTS } from '../../core/theory/symbols.ts';

const KINDS: readonly (readonly [kind: string, quality: string, pcs: string])[] = [
  ['major', '', '0 4 7'],
  ['minor', 'm', '0 3 7'],
  ['augmented', '+', '0 4 8'],
  ['diminished', 'dim', '0 3 6'],
  ['dominant', '7', '0 4 7 10'],
  ['major-seventh', 'maj7', '0 4 7 11'],
  ['minor-seventh', 'm7', '0 3 7 10'],
  ['diminished-seventh', 'dim7', '0 3 6 9'],
  ['augmented-seventh', '+7', '0 4 8 10'],
  ['half-diminished', 'm7b5', '0 3 6 10'],
  ['major-minor', 'mMaj7', '0 3 7 11'],
  ['major-sixth', '6', '0 4 7 9'],
  ['minor-sixth', 'm6', '0 3 7 9'],
  ['dominant-ninth', '9', '0 2 4 7 10'],
  ['major-ninth', 'maj9', '0 2 4 7 11'],
  ['minor-ninth', 'm9', '0 2 3 7 10'],
  ['dominant-11th', '11', '0 2 4 5 7 10'],
  ['major-11th', 'maj11', '0 2 4 5 7 11'],
  ['minor-11th', 'm11', '0 2 3 5 7 10'],
  ['minor-13th', 'm13', '0 2 3 5 7 9 10'],
  ['suspended-second', 'sus2', '0 2 7'],
  ['suspended-fourth', 'sus4', '0 5 7'],
  ['power', '5', '0 7'],
  // A kind with degrees, worked out from `degree-alter`.
  ['dominant + add 9 alter 1', '7#9', '0 3 4 7 10'],
  ['dominant + add 9 alter -1', '7b9', '0 1 4 7 10'],
  ['dominant + add 11 alter 1', '7#11', '0 4 6 7 10'],
  ['dominant + add 13 alter -1', '7b13', '0 4 7 8 10'],
  ['dominant + alter 5 by 1', '7#5', '0 4 8 10'],
  ['minor-seventh + alter 5 by -1', '-7b5', '0 3 6 10'],
  ['dominant + subtract 3', '7no3', '0 7 10'],
  ['suspended-fourth + add 7 alter 0', '7sus4', '0 5 7 10'],
  ['major-sixth + add 9', '6/9', '0 2 4 7 9'],
];

function pcsOf(text: string): string {
  return chordPcs(chord(text))
    .toSorted((one, other) => one - other)
    .join(' ');
}

describe('kinds of MusicXML', () => {
  it.each(KINDS)('%s is C%s', (_, quality, pcs) => {
    expect(pcsOf(`C${quality}`)).toBe(pcs);
  });

  it.each(KINDS)('%s has the same shape on every root', (_, quality, pcs) => {
    for (const root of ROOTS) {
      const base = chordPcs(chord(root))[0] ?? 0;
      const moved = pcs
        .split(' ')
        .map((pc) => (Number(pc) + base) % 12)
        .sort((one, other) => one - other);
      expect([root, pcsOf(root + quality)]).toEqual([root, moved.join(' ')]);
    }
  });

  it.each([
    ['G6/D', '2 4 7 11'],
    ['Aadd9', '1 4 9 11'],
    ['A11', '1 2 4 7 9 11'],
  ])('%s of the tutorial "Chord Symbols" is %s', (text, pcs) => {
    expect(pcsOf(text)).toBe(pcs);
  });
});
