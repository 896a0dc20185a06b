/**
 * Scales for half-diminished, diminished, suspended and power chords. Sources as in `major.rules.ts`.
 */

import { II, isTwoOfNext, leadsToMinor, SHARP_IV, V, VII } from './place.ts';
import { all, always, any, hasAny, inMajor, inMinor, not, type PaletteRule } from './rule.ts';

/** SAB TER: locrian, or locrian natural 2. */
export const HALF_DIMINISHED_RULES: readonly PaletteRule[] = [
  {
    when: inMajor(VII),
    offers: [{ scale: 'locrian', reason: 'vii of a major key' }],
  },
  {
    when: inMinor(II),
    offers: [{ scale: 'locrian', reason: 'half-diminished ii of a minor key' }],
  },
  {
    when: inMajor(SHARP_IV),
    offers: [{ scale: 'locrian', reason: 'raised iv: only one note leaves the key' }],
  },
  {
    when: isTwoOfNext,
    offers: [{ scale: 'locrian', reason: 'half-diminished ii of the dominant that follows' }],
  },
  {
    when: always,
    offers: [
      { scale: 'locrian', reason: 'half-diminished chord' },
      { scale: 'locrian natural 2', reason: 'natural ninth in place of the flat one' },
      { scale: 'locrian natural 6', reason: 'second mode of harmonic minor: natural sixth' },
      { scale: 'dorian b5', reason: 'natural ninth and natural sixth' },
    ],
  },
];

export const DIMINISHED_RULES: readonly PaletteRule[] = [
  {
    // Common practice: the key's own notes over a diatonic triad.
    when: all(not(hasAny('bb7', '7')), any(inMajor(VII), inMinor(II))),
    offers: [{ scale: 'locrian', reason: "diminished triad of the key's own notes" }],
  },
  {
    // SAB.
    when: ({ toNext }) => toNext === 1 || toNext === 11,
    offers: [
      {
        scale: 'whole-half diminished',
        reason: 'diminished chord passing by semitone to the next',
      },
    ],
  },
  {
    // SAB; the modes of harmonic minor by common practice.
    when: always,
    offers: [
      { scale: 'whole-half diminished', reason: 'diminished chord: a whole tone above each tone' },
      { scale: 'altered bb7', reason: 'seventh mode of the harmonic minor a semitone up' },
      { scale: 'locrian natural 6', reason: 'second mode of harmonic minor' },
      { scale: 'dorian #4', reason: 'fourth mode of harmonic minor' },
    ],
  },
];

const isSuspendedDominant = hasAny('b7');

export const SUSPENDED_RULES: readonly PaletteRule[] = [
  {
    // SAB (the later of two editions seen), TER.
    when: hasAny('b9'),
    offers: [
      { scale: 'phrygian', reason: 'suspended chord with a flat ninth' },
      { scale: 'dorian b2', reason: 'suspended chord with a flat ninth, natural sixth' },
    ],
  },
  {
    // Common practice: the key's own notes.
    when: all(isSuspendedDominant, inMinor(V), leadsToMinor),
    offers: [{ scale: 'phrygian', reason: 'suspended V of a minor key' }],
  },
  {
    // SAB TER: 7sus4, 9sus4.
    when: isSuspendedDominant,
    offers: [
      { scale: 'mixolydian', reason: 'suspended dominant' },
      { scale: 'dorian', reason: 'suspended dominant, the third kept minor' },
      { scale: 'bebop dominant', reason: 'both sevenths keep chord tones on the beat' },
    ],
  },
  {
    // Common practice: without a seventh the key decides.
    when: always,
    keyFirst: true,
    offers: [
      { scale: 'mixolydian', reason: 'suspended chord, major with a flat seventh' },
      { scale: 'ionian', reason: 'suspended chord, major' },
      { scale: 'lydian', reason: 'suspended second, major with a raised fourth' },
      { scale: 'dorian', reason: 'suspended chord, minor with a natural sixth' },
      { scale: 'aeolian', reason: 'suspended chord, natural minor' },
      { scale: 'phrygian', reason: 'suspended chord, minor with a flat ninth' },
    ],
  },
];

/** Root and fifth leave the third open. Common practice, no source. */
export const POWER_RULES: readonly PaletteRule[] = [
  {
    when: always,
    keyFirst: true,
    offers: [
      { scale: 'mixolydian', reason: 'no third: major with a flat seventh' },
      { scale: 'ionian', reason: 'no third: major' },
      { scale: 'dorian', reason: 'no third: minor with a natural sixth' },
      { scale: 'aeolian', reason: 'no third: natural minor' },
      { scale: 'minor pentatonic', reason: 'no third: five notes of minor' },
    ],
  },
];
