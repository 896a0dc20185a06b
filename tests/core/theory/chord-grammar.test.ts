import { describe, expect, it } from 'vitest';
import { chordNotes, chordPcs, isChordTone, parseTone } from '../../../src/core/theory/index.ts';
import { chord, SPELLINGS, splitOutsideParentheses } from './symbols.ts';

describe('chord symbols as musicians write them', () => {
  for (const [notes, spellings] of SPELLINGS) {
    it.each(splitOutsideParentheses(spellings))(`C%s is ${notes}`, (quality) => {
      const tones = chordNotes(chord(`C${quality}`));
      expect([...tones].sort()).toEqual(notes.split(' ').sort());
    });
  }

  it('names each spelling once', () => {
    const all = SPELLINGS.flatMap(([, spellings]) => splitOutsideParentheses(spellings));
    expect(new Set(all).size).toBe(all.length);
  });
});

describe('families', () => {
  it.each([
    ['major', ['C', 'Cmaj7', 'C6/9', 'Cadd9', 'Cmaj7#11', 'Cmaj7b5', 'C(b5)']],
    ['minor', ['Cm', 'Cm7', 'Cm6', 'CmMaj7', 'Cm7#5', 'C-11', 'Cmno3']],
    ['dominant', ['C7', 'C9', 'C11', 'C13', 'C7#5', 'C+7', 'C7b5', 'Calt', 'C7no3', 'C(b9)']],
    ['halfDiminished', ['Cm7b5', 'Cø', 'Cø9', 'Cm11b5']],
    ['diminished', ['Cdim', 'Co7', 'CdimMaj7', 'Cm(b5)']],
    ['augmented', ['C+', 'Caug', 'Cmaj7#5', 'C(#5)']],
    ['suspended', ['Csus', 'Csus2', 'C7sus4', 'C9sus', 'C7susb9', 'Cmaj7sus4']],
    ['power', ['C5', 'Cno3']],
  ])('%s', (family, symbols) => {
    for (const text of symbols) expect([text, chord(text).family]).toEqual([text, family]);
  });
});

describe('tones', () => {
  it('come by degree, root first, the lower of two forms first', () => {
    const { tones } = chord('C13#9b9');
    expect(tones.map(({ degree }) => degree)).toEqual([1, 3, 5, 7, 9, 9, 13]);
    expect(chordNotes(chord('C13#9b9'))).toEqual(['C', 'E', 'G', 'Bb', 'Db', 'D#', 'A']);
  });

  it('leave the eleventh out of a thirteenth with a major third only', () => {
    expect(chord('C13').tones.some(({ degree }) => degree === 11)).toBe(false);
    expect(chord('Cm13').tones.some(({ degree }) => degree === 11)).toBe(true);
    expect(chord('C13#11').tones.some(({ degree }) => degree === 11)).toBe(true);
  });

  it.each([
    // A tone named twice is one tone.
    ['C9add9', 'C E G Bb D'],
    // A suspended chord has no third, so that no eleventh is wanted.
    ['Cm13sus2', 'C D G Bb D A'],
    // Only a flat ninth on a suspended triad brings the seventh.
    ['Csus4(b9)', 'C F G Bb Db'],
    ['Csus4(#9)', 'C F G D#'],
    ['Csus(b5)', 'C F Gb'],
    ['C6sus(b9)', 'C F G A Db'],
    ['C(b9)', 'C E G Db'],
    // The fifth of aug is its own; maj without a number is a triad.
    ['Caug5', 'C E G#'],
    ['C(b5)maj', 'C E Gb'],
    // After a sixth the seventh is added.
    ['Cm6/9(maj7)', 'C Eb G A B D'],
    ['Cdom7alt', 'C E Bb'],
  ])('of %s are %s', (text, notes) => {
    expect(chordNotes(chord(text)).join(' ')).toBe(notes);
  });

  it('of alt are root, third and seventh, marked as altered', () => {
    expect(chord('F#alt').altered).toBe(true);
    expect(chord('F#7b9#9').altered).toBe(false);
    expect(chordPcs(chord('F#alt'))).toEqual([6, 10, 4]);
  });

  it('are told apart from the bass note', () => {
    const symbol = chord('C/D');
    expect(isChordTone(symbol, 0)).toBe(true);
    expect(isChordTone(symbol, 2)).toBe(false);
    // E G# B D.
    const ofE7 = [...Array(12).keys()].filter((pc) => isChordTone(chord('E7'), pc));
    expect(ofE7).toEqual([2, 4, 8, 11]);
  });
});

describe('roots and bass notes', () => {
  it.each([
    ['Bb7/D', 'Bb', 'D'],
    ['F#m7b5/C', 'F#', 'C'],
    ['C/E', 'C', 'E'],
    ['C6/9', 'C', null],
    ['C6/9/E', 'C', 'E'],
    ['A♭maj7/E♭', 'Ab', 'Eb'],
    ['F♯7/A♯', 'F#', 'A#'],
    ['D𝄫7', 'Dbb', null],
    ['Am/M7', 'A', null],
    ['C7/b9/Bb', 'C', 'Bb'],
    ['Cb5', 'Cb', null],
    ['  Gm7 ', 'G', null],
  ])('%s stands on %s over %s', (text, root, bass) => {
    const symbol = chord(text);
    expect(symbol.root).toBe(parseTone(root));
    expect(symbol.bass).toBe(bass === null ? null : parseTone(bass));
    expect(symbol.text).toBe(text.trim());
  });

  it('keeps major and minor sevenths apart by case', () => {
    expect(chordPcs(chord('CM7'))).toEqual([0, 4, 7, 11]);
    expect(chordPcs(chord('Cm7'))).toEqual([0, 3, 7, 10]);
  });

  it('spells far tones by their simple names', () => {
    expect(chordNotes(chord('Gbm7b5'))).toEqual(['Gb', 'A', 'C', 'Fb']);
    expect(chordNotes(chord('Gb7'))).toEqual(['Gb', 'Bb', 'Db', 'Fb']);
    expect(chordNotes(chord('B7#5'))).toEqual(['B', 'D#', 'G', 'A']);
  });
});
