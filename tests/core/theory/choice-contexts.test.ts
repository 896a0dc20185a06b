/**
 * Where each rule of the choice holds, and where it just does not. A rule goes by the reason it gives first; every row
 * lists all that hold, in order, but for the last one, which holds everywhere. Worked by hand from what the rules say
 * of themselves; their sources stand beside them. C and Cm are the keys where nothing else is said.
 */

import { describe, expect, test } from 'vitest';
import { DOMINANT_RULES } from '../../../src/core/theory/choice/dominant.rules.ts';
import { AUGMENTED_RULES, MAJOR_RULES } from '../../../src/core/theory/choice/major.rules.ts';
import { MINOR_RULES } from '../../../src/core/theory/choice/minor.rules.ts';
import {
  DIMINISHED_RULES,
  HALF_DIMINISHED_RULES,
  POWER_RULES,
  SUSPENDED_RULES,
} from '../../../src/core/theory/choice/other.rules.ts';
import type { PaletteRule } from '../../../src/core/theory/choice/rule.ts';
import { placeIn } from './places.ts';

function held(rules: readonly PaletteRule[], key: string, passage: string): readonly string[] {
  const place = placeIn(key, passage);
  return rules.filter(({ when }) => when(place)).map(({ offers }) => offers[0]?.reason ?? '');
}

type Row = readonly [key: string, passage: string, ...reasons: readonly string[]];

function table(rules: readonly PaletteRule[], rows: readonly Row[]): void {
  const everywhere = rules.at(-1)?.offers[0]?.reason ?? '';
  test.each(rows)('in %s, the middle of %s', (key, passage, ...reasons) => {
    expect(held(rules, key, passage)).toEqual([...reasons, everywhere]);
  });
}

describe('major chords', () => {
  const RAISED_FOURTH = 'the chord has the raised fourth';
  const TO_MINOR = 'major triad towards minor';
  const AS_DOMINANT = 'major triad read as a dominant';
  const NEW_TONIC = 'its own dominant resolves here: a new tonic for a while';
  const OUTSIDE = 'major chord from outside the key';

  table(MAJOR_RULES, [
    // The raised fourth, under each of its names.
    ['C', '_ Cmaj7#11 _', RAISED_FOURTH, 'I of a major key'],
    ['C', '_ Cmaj7(#4) _', RAISED_FOURTH, 'I of a major key'],
    ['C', '_ Cmaj7b5 _', RAISED_FOURTH, 'I of a major key'],
    // The key's own degrees.
    ['C', '_ Cmaj7 _', 'I of a major key'],
    ['C', '_ F _', 'IV of a major key'],
    ['C', '_ G _', 'V of a major key'],
    ['Cm', '_ Eb _', 'bIII of a minor key, its relative major'],
    ['Cm', '_ Abmaj7 _', 'bVI of a minor key'],
    // bVII and IV of minor as triads only: nothing in them rests.
    ['Cm', '_ Bb _', 'bVII of a minor key'],
    ['Cm', '_ Bbmaj7 _'],
    ['Cm', '_ Bb6 _'],
    ['Cm', '_ F _', 'major IV of a minor key: its dorian sound'],
    ['Cm', '_ Fmaj7 _'],
    ['Cm', '_ F6 _'],
    // A triad on the degree of a secondary dominant.
    ['C', '_ D _', AS_DOMINANT],
    ['C', '_ D Gm', TO_MINOR],
    ['C', '_ E _', TO_MINOR],
    ['C', '_ E Amaj7', AS_DOMINANT],
    ['C', '_ A _', TO_MINOR],
    ['C', '_ A D7', AS_DOMINANT],
    ['C', '_ B _', TO_MINOR],
    ['C', '_ B E', AS_DOMINANT],
    ['Cm', '_ C Fm', TO_MINOR],
    ['Cm', '_ C F', AS_DOMINANT],
    ['Cm', '_ D G7', TO_MINOR],
    ['Cm', '_ G Cm', TO_MINOR],
    ['Cm', '_ G C', AS_DOMINANT],
    ['C', '_ Dmaj7 _'],
    ['C', '_ E6 _'],
    ['Cm', '_ Cmaj7 Fm'],
    // A resting place after its own dominant; the key's own degrees need none.
    ['C', 'A7 Dmaj7 _', NEW_TONIC],
    ['C', 'A7 D _', AS_DOMINANT, NEW_TONIC],
    ['C', 'Am7 Dmaj7 _'],
    ['C', 'G7 C _', 'I of a major key'],
    ['C', 'C7 F _', 'IV of a major key'],
    ['C', 'D7 G _', 'V of a major key'],
    ['Cm', 'Eb7 Abmaj7 _', 'bVI of a minor key'],
    ['Cm', 'Bb7 Eb _', 'bIII of a minor key, its relative major', NEW_TONIC],
    // Borrowed from minor.
    ['C', '_ Dbmaj7 _', OUTSIDE],
    ['C', '_ Ebmaj7 _', OUTSIDE],
    ['C', '_ F#maj7 _', OUTSIDE],
    ['C', '_ Abmaj7 _', OUTSIDE],
    ['C', '_ Bbmaj7 _', OUTSIDE],
    ['C', 'Eb7 Abmaj7 _', NEW_TONIC, OUTSIDE],
    ['Cm', '_ Dbmaj7 _', OUTSIDE],
    ['Cm', '_ F#maj7 _'],
  ]);
});

describe('augmented chords', () => {
  const AS_DOMINANT = 'augmented triad read as a dominant';

  table(AUGMENTED_RULES, [
    // At rest on I and IV of major and bIII of minor, unless they go on a fourth up.
    ['C', '_ C+ _'],
    ['C', '_ C+ G'],
    ['C', '_ C+ F', AS_DOMINANT],
    ['C', '_ F+ _'],
    ['C', '_ F+ Bb', AS_DOMINANT],
    ['Cm', '_ Eb+ _'],
    ['C', '_ Eb+ _', AS_DOMINANT],
    ['Cm', '_ C+ _', AS_DOMINANT],
    ['C', '_ G+ _', AS_DOMINANT],
    // A major seventh rests.
    ['C', '_ Gmaj7#5 C'],
  ]);
});

describe('minor chords', () => {
  const TONIC = 'tonic of a minor key';
  const TWO_OF_NEXT = 'ii of the dominant that follows';
  const SIXTH = 'minor chord with a sixth, major seventh';

  table(MINOR_RULES, [
    ['C', '_ CmMaj7 _', 'minor chord with a major seventh'],
    ['Cm', '_ CmMaj7 _', 'minor chord with a major seventh', TONIC],
    // A sixth without a minor seventh.
    ['Cm', '_ Cm6 _', 'tonic minor with a sixth', TONIC],
    ['Cm', '_ Cm(add13) _', 'tonic minor with a sixth', TONIC],
    ['Cm', '_ Cm13 _', 'tonic minor seventh'],
    ['C', '_ Cm6 _', SIXTH],
    ['C', '_ Dm6 _', SIXTH, 'ii of a major key'],
    ['C', '_ Dm13 _', 'ii of a major key'],
    // Degrees.
    ['Cm', '_ Cm _', TONIC],
    ['Cm', '_ Cm7 _', 'tonic minor seventh'],
    ['C', '_ Cm _'],
    ['C', '_ Cm7 _'],
    ['C', '_ Dm7 _', 'ii of a major key'],
    ['C', '_ Em7 _', 'iii of a major key'],
    ['C', '_ Am7 _', 'vi of a major key'],
    ['C', '_ Fm _', 'iv borrowed from minor'],
    ['Cm', '_ Fm7 _', 'iv of a minor key'],
    ['Cm', '_ Gm7 _', 'minor v of a minor key'],
    ['C', '_ Gm7 _'],
    ['Cm', '_ Am7 _'],
    // The ii of a ii–V that resolves to a chord that is not minor, whatever its degree; its V may take several forms.
    ['Cm', '_ Gm7 C7 Fmaj7', TWO_OF_NEXT, 'minor v of a minor key', TWO_OF_NEXT],
    ['Cm', '_ Gm7 C7 F7', TWO_OF_NEXT, 'minor v of a minor key', TWO_OF_NEXT],
    ['Cm', '_ Gm7 C7sus4 C7 Fmaj7', TWO_OF_NEXT, 'minor v of a minor key', TWO_OF_NEXT],
    ['Cm', '_ Gm7 Gm9 C7 Fmaj7', TWO_OF_NEXT, 'minor v of a minor key', TWO_OF_NEXT],
    ['Cm', '_ Gm7 C7 Fm7', 'minor v of a minor key', TWO_OF_NEXT],
    ['Cm', '_ Gm7 C7 F5', 'minor v of a minor key', TWO_OF_NEXT],
    ['Cm', '_ Gm7 C7 Abmaj7', 'minor v of a minor key', TWO_OF_NEXT],
    ['Cm', '_ Gm7 C7 _', 'minor v of a minor key', TWO_OF_NEXT],
    ['Cm', '_ Gm7 Cm7 Fmaj7', 'minor v of a minor key'],
    ['C', '_ Em7 A7 Dmaj7', TWO_OF_NEXT, 'iii of a major key', TWO_OF_NEXT],
    ['C', '_ Em7 A7 Dm7', 'iii of a major key', TWO_OF_NEXT],
    ['C', '_ Am7 D7 Gmaj7', TWO_OF_NEXT, 'vi of a major key', TWO_OF_NEXT],
    [
      'C',
      '_ AmMaj7 D7 Gmaj7',
      'minor chord with a major seventh',
      'vi of a major key',
      TWO_OF_NEXT,
    ],
    // The ii of any dominant.
    // The tonic as ii of another key is no tonic; in a vamp with its IV it is.
    ['Cm', '_ Cm7 F7 Bbmaj7', TWO_OF_NEXT, TWO_OF_NEXT],
    ['Cm', '_ Cm7 F7 Bbm7', TWO_OF_NEXT],
    ['Cm', '_ Cm7 F7 Dm7b5', 'tonic minor seventh', TWO_OF_NEXT],
    ['Cm', '_ Cm7 F7 Cm7', 'tonic minor seventh', TWO_OF_NEXT],
    ['Cm', '_ Cm F7 Bbmaj7', TWO_OF_NEXT, TWO_OF_NEXT],
    ['Cm', '_ Cm F7 G7', TONIC, TWO_OF_NEXT],
    ['Cm', '_ Cm6 F7 Bbmaj7', TWO_OF_NEXT, SIXTH, TWO_OF_NEXT],
    ['Cm', '_ Cm6 F7 Cm6', 'tonic minor with a sixth', TONIC, TWO_OF_NEXT],
    ['C', '_ Dm7 G7 Dm7', 'ii of a major key', TWO_OF_NEXT],
    // iv is borrowed on its way to I, over bVII too; before another chord it is the ii of bIII.
    ['C', '_ Fm7 Cmaj7', 'iv borrowed from minor'],
    ['C', '_ Fm7 Bb7 Cmaj7', 'iv borrowed from minor', TWO_OF_NEXT],
    ['C', '_ Fm7 Bb7 Ebmaj7', TWO_OF_NEXT, TWO_OF_NEXT],
    ['C', '_ Fm7 Bb7 Am7', TWO_OF_NEXT],
    ['C', '_ Dm7 G7', 'ii of a major key', TWO_OF_NEXT],
    ['C', '_ Ebm7 Ab7', TWO_OF_NEXT],
    ['C', '_ Ebm7 Bb7'],
    ['Cm', '_ Dm7 G7', TWO_OF_NEXT],
  ]);
});

describe('half-diminished chords', () => {
  const TWO_OF_NEXT = 'half-diminished ii of the dominant that follows';

  table(HALF_DIMINISHED_RULES, [
    ['C', '_ Bm7b5 _', 'vii of a major key'],
    ['Cm', '_ Bm7b5 _'],
    ['Cm', '_ Dm7b5 _', 'half-diminished ii of a minor key'],
    ['C', '_ Dm7b5 _'],
    ['C', '_ F#m7b5 _', 'raised iv: only one note leaves the key'],
    ['Cm', '_ F#m7b5 _'],
    ['C', '_ Em7b5 A7', TWO_OF_NEXT],
    ['C', '_ Em7b5 Am'],
    ['Cm', '_ Dm7b5 G7', 'half-diminished ii of a minor key', TWO_OF_NEXT],
  ]);
});

describe('diminished chords', () => {
  const OF_THE_KEY = "diminished triad of the key's own notes";
  const PASSING = 'diminished chord passing by semitone to the next';

  table(DIMINISHED_RULES, [
    // B D F and D F Ab: the diminished triads of C and of Cm.
    ['C', '_ Bdim _', OF_THE_KEY],
    ['C', '_ Bdim C', OF_THE_KEY, PASSING],
    ['C', '_ Ddim _'],
    ['Cm', '_ Ddim _', OF_THE_KEY],
    ['Cm', '_ Bdim _'],
    // Any seventh leaves the key's own scale open no more.
    ['C', '_ Bdim7 _'],
    ['C', '_ BdimMaj7 _'],
    ['Cm', '_ Ddim7 _'],
    // By semitone, up or down.
    ['C', '_ C#dim7 Dm7', PASSING],
    ['C', '_ Ebdim7 Dm7', PASSING],
    ['C', '_ C#dim7 Eb'],
    ['C', 'Dm7 C#dim7 _'],
  ]);
});

describe('suspended chords', () => {
  const DOMINANT = 'suspended dominant';
  const FIVE_OF_MINOR = 'suspended V of a minor key';

  table(SUSPENDED_RULES, [
    ['C', '_ G7susb9 _', 'suspended chord with a flat ninth', DOMINANT],
    ['C', '_ G7sus4 _', DOMINANT],
    ['C', '_ G7sus4 Cm', DOMINANT],
    ['Cm', '_ G7sus4 Cm', FIVE_OF_MINOR, DOMINANT],
    ['Cm', '_ G7sus4 _', FIVE_OF_MINOR, DOMINANT],
    ['Cm', '_ G7sus4 C', DOMINANT],
    ['Cm', '_ D7sus4 G7', DOMINANT],
    ['Cm', '_ Gsus4 Cm'],
    ['C', '_ Csus4 _'],
  ]);
});

describe('power chords', () =>
  table(POWER_RULES, [
    ['C', '_ C5 _'],
    ['Cm', '_ G5 C5'],
  ]));

/** The same chord at rest, as C7 in C, and leading to minor, as G7 before Cm. */
describe('tensions of a dominant', () => {
  const ALTERED = 'altered ninth and fifth';
  const NATURAL = 'altered ninth with natural thirteenth or #11';
  const AUGMENTED = 'augmented dominant';
  const AUGMENTED_TO_MINOR = 'augmented dominant towards minor';
  const RAISED_FOURTH = 'dominant with a raised fourth';
  const B9_TO_MINOR = 'flat ninth towards minor';
  const SHARP9_TO_MINOR = 'sharp ninth towards minor';
  const NINTH = 'altered ninth, perfect fifth and thirteenth';
  const B9_B13 = 'flat ninth and flat thirteenth';
  const B13_TO_MINOR = 'flat thirteenth towards minor';
  const B13 = 'flat thirteenth with natural ninth';
  const ANY_TO_MINOR = 'every tension altered, pulling hard towards minor';
  const ANY = 'dominant chord: no tension altered';

  const ROWS: readonly (readonly [
    quality: string,
    atRest: readonly string[],
    toMinor: readonly string[],
  ])[] = [
    [
      '7b9b13',
      [B9_B13, ALTERED, NINTH, B13],
      [B9_B13, ALTERED, B9_TO_MINOR, NINTH, B13_TO_MINOR, B13],
    ],
    [
      '7b9(b6)',
      [B9_B13, ALTERED, NINTH, B13],
      [B9_B13, ALTERED, B9_TO_MINOR, NINTH, B13_TO_MINOR, B13],
    ],
    // Phrygian dominant has neither a sharp ninth nor a sharp fifth.
    [
      '7b9#9b13',
      [ALTERED, NINTH, B13],
      [ALTERED, B9_TO_MINOR, SHARP9_TO_MINOR, NINTH, B13_TO_MINOR, B13],
    ],
    [
      '7#5b9b13',
      [ALTERED, AUGMENTED, NINTH, B13],
      [ALTERED, AUGMENTED_TO_MINOR, AUGMENTED, B9_TO_MINOR, NINTH, B13_TO_MINOR, B13],
    ],
    [
      '7b9#5',
      [ALTERED, AUGMENTED, NINTH],
      [ALTERED, AUGMENTED_TO_MINOR, AUGMENTED, B9_TO_MINOR, NINTH],
    ],
    [
      '7#9#5',
      [ALTERED, AUGMENTED, NINTH],
      [ALTERED, AUGMENTED_TO_MINOR, AUGMENTED, SHARP9_TO_MINOR, NINTH],
    ],
    ['7b5b9', [ALTERED, RAISED_FOURTH, NINTH], [ALTERED, RAISED_FOURTH, B9_TO_MINOR, NINTH]],
    ['7b5#9', [ALTERED, RAISED_FOURTH, NINTH], [ALTERED, RAISED_FOURTH, SHARP9_TO_MINOR, NINTH]],
    ['7#9b13', [ALTERED, NINTH, B13], [ALTERED, SHARP9_TO_MINOR, NINTH, B13_TO_MINOR, B13]],
    ['7#9(b6)', [ALTERED, NINTH, B13], [ALTERED, SHARP9_TO_MINOR, NINTH, B13_TO_MINOR, B13]],
    // The thirteenth, the sixth and #11 of the half-whole scale.
    ['13b9', [NATURAL, NINTH], [NATURAL, B9_TO_MINOR, NINTH]],
    ['13#9', [NATURAL, NINTH], [NATURAL, SHARP9_TO_MINOR, NINTH]],
    ['6(b9)', [NATURAL, NINTH], [NATURAL, B9_TO_MINOR, NINTH]],
    ['7b9#11', [NATURAL, RAISED_FOURTH, NINTH], [NATURAL, RAISED_FOURTH, B9_TO_MINOR, NINTH]],
    ['7#9#11', [NATURAL, RAISED_FOURTH, NINTH], [NATURAL, RAISED_FOURTH, SHARP9_TO_MINOR, NINTH]],
    // One tension alone.
    ['7b9', [NINTH], [B9_TO_MINOR, NINTH]],
    ['7#9', [NINTH], [SHARP9_TO_MINOR, NINTH]],
    ['7#5', [AUGMENTED], [AUGMENTED_TO_MINOR, AUGMENTED]],
    ['7b5', [RAISED_FOURTH], [RAISED_FOURTH]],
    ['7#11', [RAISED_FOURTH], [RAISED_FOURTH]],
    ['7(#4)', [RAISED_FOURTH], [RAISED_FOURTH]],
    ['7b13', [B13], [B13_TO_MINOR, B13]],
    ['7(b6)', [B13], [B13_TO_MINOR, B13]],
    ['9b13', [B13], [B13]],
    // Natural tensions leave it to the place.
    ['13', ['tonic with a flat seventh, as in a blues'], ['V resolving to a minor chord']],
  ];

  test.each(ROWS)('%s', (quality, atRest, toMinor) => {
    expect(held(DOMINANT_RULES, 'C', `_ C${quality} _`)).toEqual([...atRest, ANY]);
    const led = held(DOMINANT_RULES, 'C', `_ G${quality} Cm`);
    expect(led).toEqual([...toMinor, ANY_TO_MINOR, ANY]);
  });

  test('alt says everything by itself', () => {
    const ALT = 'alt: every tension altered';
    expect(held(DOMINANT_RULES, 'C', '_ C7alt _')).toEqual([ALT]);
    expect(held(DOMINANT_RULES, 'C', '_ G7alt Cm')).toEqual([ALT]);
  });
});

describe('dominants without tensions', () => {
  const SUBSTITUTE = 'dominant a tritone from the V it replaces, resolving down a semitone';
  const AFTER_TWO = 'V after a half-diminished ii';
  const AFTER_TWO_TO_MAJOR = 'V after a half-diminished ii, flat ninth';
  const BLUES_FOUR = 'IV of a blues';
  const BLUES_ONE = 'tonic with a flat seventh, as in a blues';
  const OTHER_FOUR = 'IV with a flat seventh, outside a blues';
  const OF_MAJOR = 'dominant of a major chord within a minor key';
  const DORIAN_FOUR = 'major IV of a minor key: its dorian sound';
  const TO_MINOR = 'secondary dominant towards minor, flat ninth';
  const NOT_TO_MINOR = 'V of a minor key that leads to a chord not minor';
  const FIVE_OF_FOUR = 'dominant of IV';
  const BORROWED_SEVEN = 'bVII borrowed from minor';
  const MAJOR_TWO = 'II of a major key with a major third';
  const UP_FOURTH = 'dominant resolving a fourth up';
  const UNRESOLVED = 'dominant that does not resolve a fourth up';
  /** Said of any dominant that leads to minor. */
  const PULLING = 'every tension altered, pulling hard towards minor';

  table(DOMINANT_RULES, [
    // V: that it goes up a fourth or to minor is said in its own reason.
    ['C', '_ G7 C', 'V of a major key'],
    ['C', '_ G7 _', 'V of a major key'],
    ['C', 'Dm7b5 G7 _', AFTER_TWO_TO_MAJOR, 'V of a major key'],
    ['C', '_ G7 Cm', 'V resolving to a minor chord', PULLING],
    ['C', 'Dm7b5 G7 Cm', AFTER_TWO, 'V resolving to a minor chord', PULLING],
    ['Cm', '_ G7 Cm', 'V of a minor key', PULLING],
    ['Cm', 'Dm7b5 G7 Cm', AFTER_TWO, 'V of a minor key', PULLING],
    ['Cm', '_ G7 Cmaj7', NOT_TO_MINOR],
    ['Cm', '_ G7 C7', NOT_TO_MINOR],
    ['Cm', 'Dm7b5 G7 Cmaj7', AFTER_TWO_TO_MAJOR, NOT_TO_MINOR],
    // A semitone down: a substitute, unless it is the V itself, the I, or a diminished chord follows.
    ['C', '_ Db7 Cmaj7', SUBSTITUTE, UNRESOLVED],
    ['C', '_ Db7 Cdim7', UNRESOLVED],
    ['C', '_ Db7 _', UNRESOLVED],
    ['C', '_ C7 B7', BLUES_ONE],
    ['C', '_ G7 F#m7b5', 'V of a major key'],
    ['Cm', '_ Ab7 G7', SUBSTITUTE, UNRESOLVED],
    ['Cm', '_ G7 Gb7', 'V of a minor key', PULLING],
    // After its half-diminished ii: the half-whole scale first where it resolves to major.
    ['C', 'Em7b5 A7 Dm7', AFTER_TWO, TO_MINOR, PULLING],
    ['C', 'Em7b5 A7 _', AFTER_TWO, TO_MINOR, PULLING],
    ['C', 'Em7b5 A7 D7', AFTER_TWO_TO_MAJOR, UP_FOURTH],
    ['C', 'Em7b5 A7 Abmaj7', AFTER_TWO_TO_MAJOR, SUBSTITUTE, TO_MINOR, PULLING],
    ['C', 'Em7b5 A7 Abm7', AFTER_TWO, SUBSTITUTE, TO_MINOR, PULLING],
    ['C', 'Em7b5 A7 Cmaj7', AFTER_TWO, TO_MINOR, PULLING],
    ['C', 'Gm7b5 C7 _', AFTER_TWO, BLUES_ONE],
    // IV.
    ['C', 'C7 F7 C7', BLUES_FOUR, UNRESOLVED],
    ['C', 'C7 F7 Bb', BLUES_FOUR, UP_FOURTH],
    ['C', '_ F7 Em7', SUBSTITUTE, OTHER_FOUR, UNRESOLVED],
    ['C', '_ F7 _', OTHER_FOUR, UNRESOLVED],
    ['C', '_ F7 Bbmaj7', UP_FOURTH],
    ['Cm', 'C7 F7 C7', DORIAN_FOUR, UNRESOLVED],
    ['Cm', '_ F7 Bb7', UP_FOURTH],
    ['Cm', '_ F7 Bbm7', TO_MINOR, PULLING],
    // I: with its own ii before it, or with a resting IV after it, it is the dominant of that.
    ['C', '_ C7 _', BLUES_ONE],
    ['C', '_ C7 F7', BLUES_ONE, UP_FOURTH],
    ['C', 'Gm7 C7 F7', FIVE_OF_FOUR, UP_FOURTH],
    ['C', 'Gm7 C7 G7', BLUES_ONE],
    ['C', 'G7 C7 F7', BLUES_ONE, UP_FOURTH],
    ['C', 'Am7 C7 F7', BLUES_ONE, UP_FOURTH],
    ['C', 'Gm7b5 C7 F7', AFTER_TWO_TO_MAJOR, FIVE_OF_FOUR, UP_FOURTH],
    ['C', '_ C7 Fmaj7', FIVE_OF_FOUR, UP_FOURTH],
    ['C', '_ C7 A', BLUES_ONE],
    ['C', 'F7 C7 F7', BLUES_ONE, UP_FOURTH],
    ['C', '_ C7 Fm7', TO_MINOR, PULLING],
    // bVII: the back door only where it goes to I, whatever that is.
    ['C', 'Fm7 Bb7 Cmaj7', 'bVII, the back door to I', UNRESOLVED],
    ['C', '_ Bb7 C7', 'bVII, the back door to I', UNRESOLVED],
    ['C', '_ Bb7 Am7', SUBSTITUTE, BORROWED_SEVEN, UNRESOLVED],
    ['C', '_ Bb7 G7', BORROWED_SEVEN, UNRESOLVED],
    ['C', '_ Bb7 _', BORROWED_SEVEN, UNRESOLVED],
    ['C', '_ Bb7 Ebmaj7', UP_FOURTH],
    // bVII and bIII of minor.
    ['C', '_ Eb7 _', UNRESOLVED],
    ['Cm', '_ Bb7 Ebmaj7', OF_MAJOR, UP_FOURTH],
    ['Cm', '_ Bb7 Eb7', UP_FOURTH],
    ['Cm', '_ Bb7 Ebm7', TO_MINOR, PULLING],
    ['Cm', '_ Bb7 Cm', 'bVII of a minor key'],
    ['Cm', '_ Eb7 Abmaj7', OF_MAJOR, UP_FOURTH],
    ['Cm', '_ Eb7 _', 'bIII of a minor key with a flat seventh'],
    // Repeated in another form: read through to where it goes, and back to where it came from.
    ['C', '_ B9 B7b9 E9', UP_FOURTH],
    ['C', '_ E7 E7b9 Am7', TO_MINOR, PULLING],
    ['C', '_ E7 Em7 A7', UP_FOURTH],
    ['C', '_ E7 Em7b5 A7', UP_FOURTH],
    ['C', '_ E7 E6 A7', TO_MINOR, PULLING],
    ['C', '_ D7 Dm7 G7', UP_FOURTH],
    ['C', '_ Bb7 Bb7sus4 C', 'bVII, the back door to I', UNRESOLVED],
    // The others.
    ['C', '_ E7 Fmaj7', TO_MINOR, PULLING],
    ['C', '_ E7 A7', UP_FOURTH],
    ['C', '_ D7 Dm7', MAJOR_TWO, UNRESOLVED],
    ['C', 'Am7b5 D7 _', AFTER_TWO, MAJOR_TWO, UNRESOLVED],
    ['Cm', '_ D7 Dm7', TO_MINOR, PULLING],
    ['Cm', '_ Ab7 _', UNRESOLVED],
  ]);
});
