/**
 * Scales for major chords: triads, sixths, major sevenths.
 * Sources, for all files of rules: SAB = M. Sabatella, A Jazz Improvisation Primer, 1992–96, Chord/Scale Chart; TER =
 * D. Terefenko, Jazz Theory, 2014, chapter 8, list of scale categories. "Common practice" has no source; a
 * rule without a comment, and alternatives that a comment does not speak of, are common practice too.
 */

import {
  FLAT_II,
  FLAT_III,
  FLAT_VI,
  FLAT_VII,
  I,
  II,
  III,
  IV,
  isResolution,
  leadsToMinor,
  SHARP_IV,
  V,
  VI,
  VII,
} from './place.ts';
import { all, always, any, hasAny, inMajor, inMinor, not, type PaletteRule } from './rule.ts';

/** A plain triad: nothing in it says that it rests, so on these degrees it may act as a dominant. */
const isTriad = not(hasAny('6', '7'));
const isSecondaryTriad = all(isTriad, any(inMajor(II, III, VI, VII), inMinor(I, II, V)));

export const MAJOR_RULES: readonly PaletteRule[] = [
  {
    // SAB: maj7#11.
    when: hasAny('#11', '#4', 'b5'),
    offers: [{ scale: 'lydian', reason: 'the chord has the raised fourth' }],
  },
  {
    // SAB.
    when: inMajor(I),
    offers: [{ scale: 'ionian', reason: 'I of a major key' }],
  },
  {
    // Common practice.
    when: inMajor(IV),
    offers: [{ scale: 'lydian', reason: 'IV of a major key' }],
  },
  {
    // Common practice.
    when: inMajor(V),
    offers: [{ scale: 'mixolydian', reason: 'V of a major key' }],
  },
  {
    // Common practice: the key's own notes over bIII, bVI and bVII of minor.
    when: inMinor(FLAT_III),
    offers: [{ scale: 'ionian', reason: 'bIII of a minor key, its relative major' }],
  },
  {
    when: inMinor(FLAT_VI),
    offers: [{ scale: 'lydian', reason: 'bVI of a minor key' }],
  },
  {
    when: all(isTriad, inMinor(FLAT_VII)),
    offers: [{ scale: 'mixolydian', reason: 'bVII of a minor key' }],
  },
  {
    // Common practice: the natural sixth of dorian minor.
    when: all(isTriad, inMinor(IV)),
    offers: [{ scale: 'mixolydian', reason: 'major IV of a minor key: its dorian sound' }],
  },
  {
    // Common practice: a triad on a dominant's degree is read as that dominant.
    when: all(isSecondaryTriad, leadsToMinor),
    keyFirst: true,
    offers: [
      { scale: 'phrygian dominant', reason: 'major triad towards minor' },
      {
        scale: 'mixolydian b6',
        reason: 'major triad towards minor, ninth kept natural',
      },
    ],
  },
  {
    when: all(isSecondaryTriad, not(leadsToMinor)),
    offers: [{ scale: 'mixolydian', reason: 'major triad read as a dominant' }],
  },
  {
    // Common practice: after its own dominant a chord from outside the key is a resting place.
    when: all(isResolution, not(inMajor(I, IV, V)), not(inMinor(FLAT_VI))),
    offers: [
      { scale: 'ionian', reason: 'its own dominant resolves here: a new tonic for a while' },
    ],
  },
  {
    // Common practice: chords borrowed from minor are lydian.
    when: any(inMajor(FLAT_II, FLAT_III, SHARP_IV, FLAT_VI, FLAT_VII), inMinor(FLAT_II)),
    offers: [{ scale: 'lydian', reason: 'major chord from outside the key' }],
  },
  {
    // SAB.
    when: always,
    offers: [
      { scale: 'ionian', reason: 'major chord: the usual major sound' },
      { scale: 'lydian', reason: 'raised fourth: no note rubs against the third' },
      { scale: 'major pentatonic', reason: 'five notes that all agree with the chord' },
      { scale: 'bebop major', reason: 'one passing note keeps chord tones on the beat' },
      { scale: 'harmonic major', reason: 'flat sixth darkens the major chord' },
      { scale: 'mixolydian', reason: 'flat seventh: a blues shade on a chord without seventh' },
      { scale: 'lydian dominant', reason: 'flat seventh and raised fourth' },
    ],
  },
];

/**
 * Major chords with an augmented fifth, and augmented triads. Source: SAB TER for maj7#5; SAB for the triad
 * as a dominant; the split by function is common practice, no source.
 */
export const AUGMENTED_RULES: readonly PaletteRule[] = [
  {
    when: all(
      not(hasAny('7')),
      any(({ toNext }) => toNext === 5, not(any(inMajor(I, IV), inMinor(FLAT_III)))),
    ),
    offers: [{ scale: 'whole tone', reason: 'augmented triad read as a dominant' }],
  },
  {
    when: always,
    offers: [
      { scale: 'lydian augmented', reason: 'raised fifth with raised fourth and major seventh' },
      { scale: 'ionian #5', reason: 'third mode of harmonic minor: natural fourth' },
      { scale: 'augmented', reason: 'two augmented triads a semitone apart' },
      { scale: 'whole tone', reason: 'every note a whole tone apart' },
    ],
  },
];
