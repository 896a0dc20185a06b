/**
 * Pitch content of chord symbols against two unrelated libraries: tonal 6.4.3 and chord-symbol 4.0.0. Every spelling
 * of our own table is asked of both; where a library reads it, it must agree, but for the listed differences.
 */

import { chordParserFactory } from 'chord-symbol/lib/chord-symbol.js';
import { Chord, Note } from 'tonal';
import { describe, expect, it } from 'vitest';
import { chordPcs } from '../../../src/core/theory/index.ts';
import { chord, QUALITIES } from '../../core/theory/symbols.ts';

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];

function sorted(pcs: readonly number[]): string {
  return [...new Set(pcs)].sort((one, other) => one - other).join(' ');
}

function ours(text: string): string {
  return sorted(chordPcs(chord(text)));
}

function tonals(text: string): string | null {
  const { empty, notes } = Chord.get(text);
  return empty || notes.length === 0 ? null : sorted(notes.map((note) => Note.chroma(note)));
}

const parseOther = chordParserFactory();

function chordSymbols(text: string): string | null {
  const { normalized } = parseOther(text);
  const root = Note.chroma(/^[A-G][b#]?/.exec(text)?.[0] ?? '') ?? 0;
  return normalized === undefined
    ? null
    : sorted(normalized.semitones.map((semitone) => (semitone + root) % 12));
}

/** Spellings that tonal reads otherwise, and why ours stays. */
const TONAL_DIFFERS: readonly (readonly [reason: string, qualities: readonly string[]])[] = [
  ['a triangle without number is a major seventh in jazz, the ASCII one too', ['^']],
  ['a minor thirteenth keeps its eleventh, as minor-13th of MusicXML does', ['m13', '-13']],
  ['dominant-11th of MusicXML holds the third', ['11']],
  ['a flat thirteenth is added to the fifth and does not replace it', ['7b13', '9b13']],
  ['alt has no standard list of tones: ours names root, third and seventh', ['7alt', 'altered']],
];

/** Spellings that chord-symbol reads otherwise, and why ours stays. */
const OTHER_DIFFERS: readonly (readonly [reason: string, qualities: readonly string[]])[] = [
  ['the elevenths of MusicXML hold the third', ['maj11', 'M11', '11', '9(11)']],
  [
    'a number in parentheses adds that tone and no seventh or ninth below it',
    ['6(9)', '(9)', '(11)', 'm7(11)', 'm6(9)', 'm(9)', '7(13)'],
  ],
  ['a suspended flat ninth is short for 7susb9', ['sus4(b9)', 'susb9', 'sus(b9)']],
  [
    'after a number - and + are flat and sharp, not minor and augmented',
    ['7-9', '7+9', '7+11', '7-13', '7+9+5', '13-9', '9+11'],
  ],
  [
    'a flat thirteenth is added to the fifth and does not replace it',
    ['7b13', '7(b13)', '7b9b13', '7(b9,b13)', '7(b9b13)', '7#9b13', '7(#9,b13)', '9b13'],
  ],
  [
    'alt has no standard list of tones: ours names root, third and seventh',
    ['alt', '7alt', '7(alt)', 'altered', '(alt)', 'ALT'],
  ],
];

describe.each([
  ['tonal', tonals, TONAL_DIFFERS, 120],
  ['chord-symbol', chordSymbols, OTHER_DIFFERS, 300],
] as const)('%s', (_, theirs, differing, atLeast) => {
  const listed = differing.flatMap(([, qualities]) => qualities);
  const read = QUALITIES.filter((quality) => theirs(`C${quality}`) !== null);

  it('reads enough of the spellings to say something', () => {
    expect(read.length).toBeGreaterThanOrEqual(atLeast);
  });

  it('differs in the listed spellings and in no others', () => {
    const different = read.filter((quality) => theirs(`C${quality}`) !== ours(`C${quality}`));
    expect(different.sort()).toEqual([...listed].sort());
  });

  it.each(ROOTS)('agrees on %s', (root) => {
    for (const quality of read.filter((one) => !listed.includes(one))) {
      const found = theirs(root + quality);
      if (found !== null)
        expect([root + quality, ours(root + quality)]).toEqual([root + quality, found]);
    }
  });
});
