/**
 * Scales for dominant chords. First the tensions a symbol names, then where the chord leads. Sources as in
 * `major.rules.ts`.
 */

import {
  FLAT_III,
  FLAT_VII,
  followsHalfDiminished,
  followsTwo,
  goesDownSemitone,
  goesToTonic,
  goesUpFourth,
  I,
  II,
  IV,
  isInBlues,
  leadsToMajor,
  leadsToMinor,
  type Place,
  V,
} from './place.ts';
import { all, always, any, hasAny, inMajor, inMinor, not, type PaletteRule } from './rule.ts';

const isAltered = ({ symbol }: Place): boolean => symbol.altered;
const hasAlteredNinth = hasAny('b9', '#9');
const hasAlteredFifth = hasAny('b5', '#5', 'b13', 'b6');
const isV = any(inMajor(V), inMinor(V));

/** The I of a blues may go down by semitone too, and a diminished chord is none that a V resolves to. */
const isSubstitute = all(
  goesDownSemitone,
  not(any(isV, inMajor(I))),
  ({ next }) => next?.family !== 'diminished',
);

/** A dominant on I that is none of a blues: its IV is a major chord at rest, or its own ii stands before it. */
const isDominantOfFour = all(
  goesUpFourth,
  not(leadsToMinor),
  any(({ next }) => next?.family === 'major', followsTwo),
);

/** What the symbol itself names. */
const TENSIONS: readonly PaletteRule[] = [
  {
    // SAB TER: 7alt is the seventh mode of the melodic minor a semitone up.
    when: isAltered,
    offers: [
      { scale: 'altered', reason: 'alt: every tension altered' },
      { scale: 'whole tone', reason: 'altered fifths with a natural ninth' },
      { scale: 'half-whole diminished', reason: 'altered ninths with a natural thirteenth' },
      { scale: 'phrygian dominant', reason: 'flat ninth and flat thirteenth' },
    ],
  },
  {
    // Common practice: 7b9b13 with its perfect fifth.
    when: all(hasAny('b9'), hasAny('b13', 'b6'), not(hasAny('#9', '#5'))),
    offers: [{ scale: 'phrygian dominant', reason: 'flat ninth and flat thirteenth' }],
  },
  {
    // SAB TER: 7#5#9 and its like.
    when: all(hasAlteredNinth, hasAlteredFifth),
    offers: [{ scale: 'altered', reason: 'altered ninth and fifth' }],
  },
  {
    // Common practice: 13b9.
    when: all(hasAlteredNinth, hasAny('13', '6', '#11')),
    offers: [
      { scale: 'half-whole diminished', reason: 'altered ninth with natural thirteenth or #11' },
    ],
  },
  {
    // Common practice: to minor, the raised fifth is the flat thirteenth of the altered scale.
    when: all(hasAny('#5'), leadsToMinor),
    offers: [
      { scale: 'altered', reason: 'augmented dominant towards minor' },
      { scale: 'mixolydian b6', reason: 'the raised fifth as a flat thirteenth, natural ninth' },
      { scale: 'phrygian dominant', reason: 'the raised fifth as a flat thirteenth, flat ninth' },
    ],
  },
  {
    // SAB: 7#5.
    when: hasAny('#5'),
    offers: [{ scale: 'whole tone', reason: 'augmented dominant' }],
  },
  {
    // SAB TER: 7#11, 9#11, 13#11; 7b5 by common practice.
    when: hasAny('#11', '#4', 'b5'),
    offers: [
      { scale: 'lydian dominant', reason: 'dominant with a raised fourth' },
      { scale: 'whole tone', reason: 'raised fourth and raised fifth' },
    ],
  },
  {
    // SAB: b9 and #9 leading to minor.
    when: all(hasAny('b9'), leadsToMinor),
    offers: [{ scale: 'phrygian dominant', reason: 'flat ninth towards minor' }],
  },
  {
    // SAB gives altered for 7#9; it has no perfect fifth, the one documented case of a chord tone left out.
    when: all(hasAny('#9'), leadsToMinor),
    offers: [
      { scale: 'altered', reason: 'sharp ninth towards minor' },
      // SAB: harmonic minor a fourth up for dominants into minor.
      { scale: 'phrygian dominant', reason: 'flat ninth in place of the sharp one, perfect fifth' },
    ],
  },
  {
    // SAB: 7b9, both scales; 7#9 by common practice.
    when: hasAlteredNinth,
    offers: [
      { scale: 'half-whole diminished', reason: 'altered ninth, perfect fifth and thirteenth' },
      { scale: 'phrygian dominant', reason: 'flat ninth with flat thirteenth' },
    ],
  },
  {
    when: all(hasAny('b13', 'b6'), leadsToMinor, not(hasAny('9'))),
    offers: [{ scale: 'phrygian dominant', reason: 'flat thirteenth towards minor' }],
  },
  {
    // TER: 7b13.
    when: hasAny('b13', 'b6'),
    offers: [{ scale: 'mixolydian b6', reason: 'flat thirteenth with natural ninth' }],
  },
];

/** Where a dominant leads, when its own tensions leave it open. */
const FUNCTIONS: readonly PaletteRule[] = [
  {
    // SAB: 7b9, half-whole or the harmonic minor a fourth up; both keep the b5 of the ii as their flat ninth. Which comes
    // first by what follows: common practice, for the thirteenth is the third of a major chord, the flat one of a minor.
    when: all(followsHalfDiminished, leadsToMajor),
    offers: [
      { scale: 'half-whole diminished', reason: 'V after a half-diminished ii, flat ninth' },
      { scale: 'phrygian dominant', reason: 'V after a half-diminished ii' },
    ],
  },
  {
    when: all(followsHalfDiminished, not(leadsToMajor)),
    offers: [
      { scale: 'phrygian dominant', reason: 'V after a half-diminished ii' },
      { scale: 'half-whole diminished', reason: 'V after a half-diminished ii, flat ninth' },
    ],
  },
  {
    // Common practice: Db7 for G7 has the notes of G altered.
    when: isSubstitute,
    offers: [
      {
        scale: 'lydian dominant',
        reason: 'dominant a tritone from the V it replaces, resolving down a semitone',
      },
    ],
  },
  {
    when: all(inMinor(V), leadsToMinor),
    offers: [
      { scale: 'phrygian dominant', reason: 'V of a minor key' },
      { scale: 'mixolydian b6', reason: 'V of a minor key, natural ninth' },
    ],
  },
  {
    when: all(inMajor(V), leadsToMinor),
    offers: [
      { scale: 'phrygian dominant', reason: 'V resolving to a minor chord' },
      { scale: 'mixolydian b6', reason: 'V resolving to a minor chord, natural ninth' },
    ],
  },
  {
    // SAB.
    when: all(inMajor(V), not(leadsToMinor)),
    offers: [{ scale: 'mixolydian', reason: 'V of a major key' }],
  },
  {
    when: all(inMinor(V), not(leadsToMinor)),
    offers: [{ scale: 'mixolydian', reason: 'V of a minor key that leads to a chord not minor' }],
  },
  {
    // Common practice: the blues tonic and subdominant are mixolydian.
    when: all(inMajor(IV), isInBlues),
    offers: [
      { scale: 'mixolydian', reason: 'IV of a blues' },
      { scale: 'lydian dominant', reason: 'IV of a blues with a raised fourth' },
    ],
  },
  {
    // Common practice: V7 of IV.
    when: all(inMajor(I), isDominantOfFour),
    offers: [{ scale: 'mixolydian', reason: 'dominant of IV' }],
  },
  {
    when: all(inMajor(I), not(leadsToMinor), not(isDominantOfFour)),
    offers: [{ scale: 'mixolydian', reason: 'tonic with a flat seventh, as in a blues' }],
  },
  {
    // Common practice: bVII7 is lydian dominant.
    when: all(inMajor(FLAT_VII), goesToTonic),
    offers: [{ scale: 'lydian dominant', reason: 'bVII, the back door to I' }],
  },
  {
    when: all(inMajor(FLAT_VII), not(any(goesUpFourth, goesToTonic))),
    offers: [{ scale: 'lydian dominant', reason: 'bVII borrowed from minor' }],
  },
  {
    // Common practice.
    when: all(inMajor(IV), not(any(goesUpFourth, isInBlues))),
    offers: [{ scale: 'lydian dominant', reason: 'IV with a flat seventh, outside a blues' }],
  },
  {
    when: all(inMinor(IV), not(goesUpFourth)),
    offers: [{ scale: 'mixolydian', reason: 'major IV of a minor key: its dorian sound' }],
  },
  {
    // Common practice: bVII and bIII of minor are the dominants of its major neighbours.
    when: all(inMinor(FLAT_VII, FLAT_III), goesUpFourth, ({ next }) => next?.family === 'major'),
    offers: [{ scale: 'mixolydian', reason: 'dominant of a major chord within a minor key' }],
  },
  {
    // Common practice: the key's own notes.
    when: all(inMinor(FLAT_VII), not(goesUpFourth)),
    offers: [{ scale: 'mixolydian', reason: 'bVII of a minor key' }],
  },
  {
    // Common practice: with the flat seventh alone it leaves the key.
    when: all(inMinor(FLAT_III), not(goesUpFourth)),
    offers: [{ scale: 'mixolydian', reason: 'bIII of a minor key with a flat seventh' }],
  },
  {
    // Common practice: secondary dominants keep the notes of the key, so V of ii has a natural ninth, V of iii and of vi a flat one.
    when: all(leadsToMinor, not(isV)),
    keyFirst: true,
    offers: [
      { scale: 'phrygian dominant', reason: 'secondary dominant towards minor, flat ninth' },
      { scale: 'mixolydian b6', reason: 'secondary dominant towards minor, natural ninth' },
    ],
  },
  {
    // Common practice.
    when: all(goesUpFourth, not(any(isV, leadsToMinor))),
    offers: [{ scale: 'mixolydian', reason: 'dominant resolving a fourth up' }],
  },
  {
    // Common practice.
    when: all(inMajor(II), not(goesUpFourth)),
    offers: [{ scale: 'mixolydian', reason: 'II of a major key with a major third' }],
  },
  {
    // Common practice.
    when: not(any(goesUpFourth, leadsToMinor, inMajor(I, V), inMinor(FLAT_VII, FLAT_III))),
    offers: [{ scale: 'lydian dominant', reason: 'dominant that does not resolve a fourth up' }],
  },
];

/** What any dominant may take. The altered and whole-tone scales give up its perfect fifth for tension. */
const FURTHER: readonly PaletteRule[] = [
  {
    when: leadsToMinor,
    offers: [
      { scale: 'altered', reason: 'every tension altered, pulling hard towards minor' },
      { scale: 'mixolydian b6', reason: 'flat thirteenth with natural ninth' },
      { scale: 'half-whole diminished', reason: 'flat and sharp ninth, natural thirteenth' },
      { scale: 'mixolydian', reason: 'no tension altered' },
    ],
  },
  {
    // SAB.
    when: always,
    offers: [
      { scale: 'mixolydian', reason: 'dominant chord: no tension altered' },
      { scale: 'lydian dominant', reason: 'raised fourth: no note rubs against the third' },
      { scale: 'bebop dominant', reason: 'both sevenths keep chord tones on the beat' },
      { scale: 'half-whole diminished', reason: 'flat and sharp ninth, natural thirteenth' },
      { scale: 'altered', reason: 'every tension altered' },
      { scale: 'mixolydian b6', reason: 'flat thirteenth with natural ninth' },
      { scale: 'whole tone', reason: 'raised fourth and raised fifth' },
      { scale: 'phrygian dominant', reason: 'flat ninth and flat thirteenth' },
    ],
  },
];

const isOpen = not(any(isAltered, hasAlteredNinth, hasAlteredFifth, hasAny('#11', '#4')));

export const DOMINANT_RULES: readonly PaletteRule[] = [
  ...TENSIONS,
  ...FUNCTIONS.map((rule) => ({ ...rule, when: all(isOpen, rule.when) })),
  ...FURTHER.map((rule) => ({ ...rule, when: all(not(isAltered), rule.when) })),
];
