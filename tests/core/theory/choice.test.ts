/**
 * The proposal for a chord where it stands. The source of each row is named on it, SAB and TER as in
 * `src/core/theory/choice/major.rules.ts`; "common practice" has no source.
 */

import { describe, expect, it } from 'vitest';
import { choosePalettes, parseKey } from '../../../src/core/theory/index.ts';
import { chord } from './symbols.ts';

/** `Dm7b5 [G7] Cm7` in a key: the choices for the chord in brackets; `_` is no neighbour. */
function choicesIn(keyText: string, passage: string) {
  const key = parseKey(keyText);
  if (key === null) throw new Error(`no key ${keyText}`);
  const words = passage.split(' ');
  const at = words.findIndex((word) => word.startsWith('['));
  const chords = (around: readonly string[]) =>
    around.filter((word) => word !== '_').map((word) => chord(word));
  return choosePalettes({
    symbol: chord((words[at] ?? '').slice(1, -1)),
    key,
    before: chords(words.slice(0, at)).reverse(),
    after: chords(words.slice(at + 1)),
  });
}

function proposalIn(keyText: string, passage: string): string {
  const palette = choicesIn(keyText, passage)[0]?.palette;
  return `${palette?.root} ${palette?.name}`;
}

describe('a chord in a major key', () => {
  it.each([
    // Diatonic chords: common practice.
    ['C', '_ [Cmaj7] _', 'C ionian'],
    ['C', '_ [C6] _', 'C ionian'],
    ['Ab', '_ [Ab] _', 'Ab ionian'],
    ['C', '_ [Dm7] G7', 'D dorian'],
    ['C', '_ [Em7] _', 'E phrygian'],
    ['C', '_ [Em7] A7', 'E phrygian'],
    ['C', '_ [Em9] _', 'E aeolian'],
    ['C', '_ [Fmaj7] _', 'F lydian'],
    ['C', '_ [F6] _', 'F lydian'],
    ['C', '_ [G7] Cmaj7', 'G mixolydian'],
    ['C', '_ [G13] _', 'G mixolydian'],
    ['C', '_ [G7] F#m7b5', 'G mixolydian'],
    ['C', '_ [G] _', 'G mixolydian'],
    ['C', '_ [Am7] _', 'A aeolian'],
    ['C', '_ [Bm7b5] _', 'B locrian'],
    ['C', '_ [Bdim] _', 'B locrian'],
    // V that turns to minor: common practice.
    ['C', '_ [G7] Cm', 'G phrygian dominant'],
    ['C', '_ [G9] Cm', 'G mixolydian b6'],
    // Secondary dominants keep the key's notes: common practice.
    ['C', '_ [A7] Dm7', 'A mixolydian b6'],
    ['C', '_ [B7] Em7', 'B phrygian dominant'],
    ['C', '_ [E7] Am7', 'E phrygian dominant'],
    ['C', '_ [E7] Fmaj7', 'E phrygian dominant'],
    ['C', '_ [E7] A7', 'E mixolydian'],
    ['C', '_ [D7] G7', 'D mixolydian'],
    ['C', '_ [D7] Dm7', 'D mixolydian'],
    // The ii of a ii–V–I is dorian in whatever key it is. Into minor it keeps the key's
    // notes, among them the third of the chord it leads to, and without a cadence too: common practice.
    ['C', '_ [Em7] A7 Dmaj7', 'E dorian'],
    ['C', '_ [Em7] A7 Dm7', 'E phrygian'],
    ['C', '_ [Am7] D7 Gmaj7', 'A dorian'],
    ['C', '_ [Am7] D7 Em7', 'A aeolian'],
    ['Eb', 'Eb6 [Gm7] C7b9 Fm7 Bb7', 'G phrygian'],
    // A dominant in several forms goes where the last of them goes: common practice.
    ['F', '_ [G7] Gm7 C7', 'G mixolydian'],
    ['C', '_ [B9] B7b9 E9', 'B mixolydian'],
    ['C', '_ [E7] E7#5 Am7', 'E phrygian dominant'],
    ['C', '_ [E7] Dm7 C7', 'E phrygian dominant'],
    ['C', '_ [C7] Fmaj7', 'C mixolydian'],
    ['C', '_ [E] Am', 'E phrygian dominant'],
    ['C', '_ [A] Dm', 'A mixolydian b6'],
    // After a half-diminished ii the flat ninth stays: SAB for both scales; which is first by common practice.
    ['C', 'Dm7b5 [G7] Cmaj7', 'G half-whole diminished'],
    ['C', 'Dm7b5 [G7] Em7', 'G half-whole diminished'],
    ['C', 'Dm7b5 [G7] Cm6', 'G phrygian dominant'],
    ['C', 'Dm7b5 G7sus4 [G7] C6', 'G half-whole diminished'],
    ['C', 'Dm7b5 [G9] C6', 'G mixolydian'],
    ['C', 'Dm7 [G7] C6', 'G mixolydian'],
    ['C', 'Em7b5 [A7] D7', 'A half-whole diminished'],
    // Minor ii-V inside a major key: common practice.
    ['C', 'Em7b5 [A7] Dm7', 'A phrygian dominant'],
    ['Bb', 'Dm7b5 [G7] Cm7', 'G phrygian dominant'],
    ['C', '_ [Em7b5] A7', 'E locrian'],
    ['C', '_ [F#m7b5] _', 'F# locrian'],
    // Tritone substitutes, the back door and IV7: common practice.
    ['C', 'Dm7 [Db7] Cmaj7', 'Db lydian dominant'],
    ['C', '_ [Db7] _', 'Db lydian dominant'],
    ['C', '_ [Ab7] G7', 'Ab lydian dominant'],
    ['Bb', 'Cm7 [B7] Bbmaj7', 'B lydian dominant'],
    ['C', 'Fm7 [Bb7] Cmaj7', 'Bb lydian dominant'],
    ['C', '_ [Bb7] Ebmaj7', 'Bb mixolydian'],
    ['C', '_ [F7] Em7', 'F lydian dominant'],
    // Blues: common practice.
    ['C', 'C7 [F7] C7', 'F mixolydian'],
    ['C', 'F7 [C7] G7', 'C mixolydian'],
    ['C', '_ [C7] F7', 'C mixolydian'],
    // Chords borrowed from minor: common practice.
    ['C', '_ [Fm6] _', 'F melodic minor'],
    ['C', '_ [Fm] _', 'F melodic minor'],
    ['C', '_ [Fm7] Bb7', 'F dorian'],
    ['C', '_ [Dbmaj7] Cmaj7', 'Db lydian'],
    ['C', '_ [Ebmaj7] _', 'Eb lydian'],
    ['C', '_ [Abmaj7] _', 'Ab lydian'],
    ['C', '_ [Bbmaj7] _', 'Bb lydian'],
    // A new tonic for a while, and other chords from outside: common practice.
    ['C', 'A7 [Dmaj7] _', 'D ionian'],
    ['C', 'Eb7 [Abmaj7] _', 'Ab ionian'],
    ['C', '_ [Cm7] F7', 'C dorian'],
    ['C', '_ [Ebm7] Ab7', 'Eb dorian'],
    // Diminished chords: SAB.
    ['C', 'Cmaj7 [C#dim7] Dm7', 'C# whole-half diminished'],
    ['C', 'Em7 [Ebdim7] Dm7', 'Eb whole-half diminished'],
    ['C', 'F7 [F#dim7] C7', 'F# whole-half diminished'],
    // Suspended, augmented, power: SAB for 7sus and the augmented dominant; the rest common practice.
    ['C', '_ [G7sus4] Cmaj7', 'G mixolydian'],
    ['C', '_ [Csus4] C', 'C ionian'],
    ['C', '_ [Dsus2] _', 'D dorian'],
    ['C', '_ [G+] C', 'G whole tone'],
    ['C', '_ [C+] F', 'C whole tone'],
    ['C', '_ [C+] _', 'C lydian augmented'],
    ['C', '_ [A5] _', 'A aeolian'],
  ])('in %s: %s is %s', (key, passage, proposal) => {
    expect(proposalIn(key, passage)).toBe(proposal);
  });
});

describe('a chord in a minor key', () => {
  it.each([
    // Tonic: SAB for m6, mMaj7 and m7; the triad by common practice.
    ['Cm', '_ [Cm6] _', 'C melodic minor'],
    ['Cm', '_ [CmMaj7] _', 'C melodic minor'],
    ['Cm', 'G7 [Cm] _', 'C melodic minor'],
    ['Cm', 'G7 [Cm7] _', 'C dorian'],
    ['Cm', '_ [Cm7] Fm7', 'C dorian'],
    // Modal: one chord, or two a semitone apart.
    ['Dm', '_ [Dm7] _', 'D dorian'],
    ['Dm', 'Ebm7 [Dm7] Ebm7', 'D dorian'],
    ['Dm', 'Dm7 [Ebm7] Dm7', 'Eb dorian'],
    // The ii-V: SAB TER for ii, SAB for V.
    ['Cm', '_ [Dm7b5] G7', 'D locrian'],
    ['Cm', 'Dm7b5 [G7] Cm', 'G phrygian dominant'],
    ['Cm', '_ [G7] _', 'G phrygian dominant'],
    ['Cm', '_ [G7] Abmaj7', 'G phrygian dominant'],
    ['Cm', '_ [G7] Cmaj7', 'G mixolydian'],
    ['Cm', '_ [G7alt] Cm', 'G altered'],
    ['Cm', '_ [G7#5] Cm', 'G altered'],
    ['Cm', '_ [G9] Cm', 'G mixolydian b6'],
    ['Cm', '_ [G13] Cm', 'G mixolydian'],
    // SAB: the one proposal that lacks a chord tone, the perfect fifth.
    ['Cm', '_ [G7#9] Cm', 'G altered'],
    // The key's own notes elsewhere: common practice.
    ['Cm', '_ [Ebmaj7] _', 'Eb ionian'],
    ['Cm', '_ [Fm7] _', 'F dorian'],
    ['Cm', '_ [Fm6] _', 'F dorian'],
    ['Cm', '_ [Gm7] _', 'G phrygian'],
    // After its own ii–V the minor v keeps their natural second: common practice.
    ['Cm', 'Am7b5 D7b9 [Gm7] _', 'G aeolian'],
    ['Cm', 'Am7b5 D7 D7b9 [Gm7] _', 'G aeolian'],
    ['Cm', 'Cm6 D7 [Gm7] _', 'G phrygian'],
    ['Cm', '_ [Gm7] C7 Fmaj7', 'G dorian'],
    ['Cm', '_ [Gm7] C7 Fm7', 'G phrygian'],
    ['Cm', '_ [Abmaj7] _', 'Ab lydian'],
    ['Cm', '_ [Bb7] Ebmaj7', 'Bb mixolydian'],
    ['Cm', '_ [Bb] _', 'Bb mixolydian'],
    ['Cm', '_ [Dbmaj7] _', 'Db lydian'],
    ['Cm', '_ [Ab7] G7', 'Ab lydian dominant'],
    ['Cm', '_ [D7] G7', 'D phrygian dominant'],
    ['Cm', '_ [C7] Fm7', 'C mixolydian b6'],
    ['Cm', '_ [F7] _', 'F mixolydian'],
    ['Cm', '_ [Bdim7] Cm', 'B whole-half diminished'],
    ['Cm', '_ [G7sus4] Cm', 'G phrygian'],
    ['Am', '_ [E] Am', 'E phrygian dominant'],
  ])('in %s: %s is %s', (key, passage, proposal) => {
    expect(proposalIn(key, passage)).toBe(proposal);
  });
});

describe('reasons', () => {
  it.each([
    ['C', '_ [Em7] _', 'iii of a major key'],
    ['C', 'Dm7 [Db7] C', 'dominant a tritone from the V it replaces, resolving down a semitone'],
    ['C', '_ [Cm7] F7', 'ii of the dominant that follows'],
    ['C', '_ [Cm7] Bb7', 'minor chord: the usual minor sound'],
    ['Cm', '_ [Dm7b5] G7', 'half-diminished ii of a minor key'],
    ['C', 'Em7b5 [A7] Dm7', 'V after a half-diminished ii'],
  ])('in %s: %s because: %s', (key, passage, reason) => {
    expect(choicesIn(key, passage)[0]?.reason).toBe(reason);
  });

  it('of a dominant never speak of a resolution that does not come', () => {
    const reasons = choicesIn('C', '_ [G7] Cmaj7').map(({ reason }) => reason);
    expect(reasons.some((reason) => reason.includes('minor'))).toBe(false);
    expect(reasons.some((reason) => reason.includes('does not resolve'))).toBe(false);
  });
});

describe('alternatives', () => {
  it.each([
    ['C', '_ [Cmaj7] _', 'lydian', 'brighter'],
    ['C', '_ [Fmaj7] _', 'ionian', 'darker'],
    ['C', '_ [G7] C', 'altered', 'tension'],
    ['C', '_ [G7] C', 'lydian dominant', 'brighter'],
    ['C', '_ [G7] C', 'bebop dominant', 'inside'],
    ['C', '_ [G7] C', 'phrygian dominant', 'darker'],
    ['C', '_ [Dm7] G7', 'aeolian', 'darker'],
    ['C', '_ [C6] _', 'major pentatonic', 'inside'],
    ['Cm', '_ [Dm7b5] G7', 'locrian natural 2', 'brighter'],
    ['Cm', '_ [Cm] _', 'melodic minor up and down', 'inside'],
  ])('in %s: %s offers %s, %s', (key, passage, name, colour) => {
    const alternatives = choicesIn(key, passage).slice(1);
    const found = alternatives.find(({ palette }) => palette.name === name);
    expect(found?.colour).toBe(colour);
  });

  it('hold the bass note before those that do not', () => {
    expect(proposalIn('C', '_ [C/Bb] F/A')).toBe('C mixolydian');
    expect(proposalIn('Cm', 'Cm [Cm/B] Cm/Bb')).toBe('C melodic minor');
    expect(proposalIn('C', '_ [C7/F#] _')).toBe('C lydian dominant');
    // Altered holds the Ab as well, but not the fifth of C7.
    expect(proposalIn('C', '_ [C7/Ab] _')).toBe('C mixolydian b6');
    const names = choicesIn('C', '_ [C/Bb] F/A').map(({ palette }) => palette.name);
    expect(names.indexOf('ionian')).toBeGreaterThan(names.indexOf('mixolydian'));
  });

  it('are the tones themselves for a chord that no scale holds', () => {
    const [only, ...others] = choicesIn('C', '_ [Cmaj7(b9)] _');
    expect(only?.palette.notes).toEqual(['C', 'Db', 'E', 'G', 'B']);
    expect(only?.palette.name).toBe('notes');
    expect(only?.reason).toBe("the chord's own tones: no scale holds them all");
    expect(only?.colour).toBe('inside');
    expect(others).toEqual([]);
  });

  it.each([
    // Upwards from the root; a sharp fifth and a flat thirteenth are one key.
    ['Bmaj7(b9)', 'B C D# F# A#'],
    ['Cmaj7(b9,#5,b13)', 'C Db E G# B'],
  ])('of %s, which no scale holds, are %s', (symbol, notes) => {
    const choices = choicesIn('C', `_ [${symbol}] _`);
    expect(choices.map(({ palette }) => palette.notes.join(' '))).toEqual([notes]);
  });

  it.each([
    // The further sounds of a dominant, and eight at most where the rules know more.
    [
      'C',
      'C7',
      'mixolydian, lydian dominant, bebop dominant, half-whole diminished, altered, mixolydian b6, whole tone, phrygian dominant',
    ],
    [
      'Cm',
      'Cm',
      'melodic minor, dorian, harmonic minor, aeolian, melodic minor up and down, phrygian, minor pentatonic, blues',
    ],
    // Into minor: SAB for the altered scale; behind it what holds the fifth, then the whole tones of the symbol (SAB).
    ['Cm', 'G7#5', 'altered, mixolydian b6, phrygian dominant, whole tone'],
    ['Cm', 'G7#9', 'altered, phrygian dominant, half-whole diminished'],
    ['C', 'G7#5', 'whole tone, altered, mixolydian b6, phrygian dominant'],
    // Where the rules know three, the catalogue is not searched; TER.
    ['C', 'Cmaj7#5', 'lydian augmented, ionian #5, augmented'],
  ])('in %s: those of %s are %s', (key, symbol, names) => {
    const choices = choicesIn(key, `_ [${symbol}] _`);
    expect(choices.map(({ palette }) => palette.name).join(', ')).toBe(names);
  });
});
