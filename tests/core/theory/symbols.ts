/** Chord symbols for tests: spellings that mean the same, and the notes they stand for on C, worked out by hand. */

import { type ChordSymbol, parseChordSymbol } from '../../../src/core/theory/index.ts';

/** Each row: the notes on C by ascending degree, then the spellings after the root. */
export const SPELLINGS: readonly (readonly [notes: string, spellings: string])[] = [
  ['C E G', ' M maj Maj ma major'],
  ['C E G B', 'maj7 Maj7 M7 ma7 Ma7 MA7 MAJ7 Δ Δ7 ∆7 △7 ^7 ^ j7 major7 (maj7) 7M'],
  ['C E G B D', 'maj9 Maj9 M9 ma9 Δ9 maj7(9) maj7/9'],
  ['C E G B D F', 'maj11 M11'],
  ['C E G B D A', 'maj13 M13 Δ13 maj9(13)'],
  ['C E G B F#', 'maj7#11 M7#11 Δ7#11 maj7(#11) Δ#11 maj7+11'],
  ['C E G B D F#', 'maj9#11 M9#11 maj9(#11)'],
  ['C E G# B', 'maj7#5 +maj7 maj7+ M7#5 augmaj7 Δ#5 +Δ maj7(#5) maj7+5 +M7 +(maj7)'],
  ['C E Gb B', 'maj7b5 M7(b5) Δ7-5'],
  ['C E G A', '6 M6 maj6 add6 (6)'],
  ['C E G A D', '6/9 69 6(9) 6add9 6,9 M69 maj6/9 (6/9) (69)'],
  ['C D E G', '2 add2'],
  ['C E G D', 'add9 (add9) (9) Madd9 majadd9 ADD9'],
  ['C E G F', 'add11 (11)'],
  ['C E F G', 'add4'],
  ['C Eb G', 'm min mi - minor Min MIN MI −'],
  ['C Eb G Bb', 'm7 min7 mi7 -7 MI7 minor7 Min7 m(7)'],
  ['C Eb G Bb D', 'm9 min9 -9 mi9 m7(9) m7/9'],
  ['C Eb G Bb D F', 'm11 min11 -11 m9(11)'],
  ['C Eb G Bb D F A', 'm13 min13 -13'],
  ['C Eb G Bb F', 'm7add11 m7(11) m7(add11) -7/11'],
  ['C Eb G A', 'm6 min6 -6 mi6 madd6'],
  ['C Eb G A D', 'm6/9 m69 -69 min6/9 m6(9) m(6/9)'],
  ['C Eb G D', 'madd9 m(add9) minadd9 -add9 m(9)'],
  ['C Eb G B', 'mMaj7 mM7 m(maj7) -Δ7 minmaj7 mmaj7 mΔ m/maj7 m/M7 min(maj7) -maj7 m7M mΔ7'],
  ['C Eb G B D', 'mMaj9 mM9 m(maj9) -Δ9 m9(maj7) m9maj7 m9(M7) -9(Δ7)'],
  ['C Eb G A B', 'm6(maj7) m6/maj7'],
  ['C E G A B', '6(maj7)'],
  ['C Eb G# Bb', 'm7#5 m7+5 -7(#5)'],
  ['C Eb G Ab', 'm(b6) mb6'],
  ['C Eb Gb', 'dim o ° º mb5 m(b5) -b5 m-5'],
  ['C Eb Gb Bb', 'm7b5 min7b5 -7b5 ø ø7 Ø Ø7 m7(b5) m7-5 -7-5 halfdim7 half-dim7 m7♭5 mi7b5'],
  ['C Eb Gb Bb D', 'm9b5 ø9 -9b5 m9(b5)'],
  ['C Eb Gb Bb D F', 'm11b5 ø11'],
  ['C Eb Gb A', 'dim7 o7 °7 diminished7 DIM7'],
  ['C Eb Gb B', 'dimMaj7 oM7 °(maj7) dim(maj7) oΔ'],
  ['C E G#', '+ aug (#5) augmented (+5) +5'],
  ['C E Gb', '(b5) (-5) (♭5)'],
  ['C F G', 'sus sus4 SUS'],
  ['C D G', 'sus2'],
  ['C D F G', 'sus24 sus2sus4 sus2/4'],
  ['C F G Bb', '7sus 7sus4 sus7 7(sus4)'],
  ['C F G Bb D', '9sus 9sus4 sus9'],
  ['C F G Bb D A', '13sus 13sus4 sus13 9sus(13)'],
  ['C F G Bb Db', 'sus4(b9) 7susb9 7sus4b9 susb9 7b9sus 7b9sus4 7sus4(b9) sus(b9)'],
  ['C D G Bb', '7sus2'],
  ['C G', '5 no3 (no3) omit3 no3rd'],
  ['C E G Bb', '7 dom7 (7)'],
  ['C E G Bb D', '9 7(9) 7/9 7add9'],
  ['C E G Bb D F', '11 9(11)'],
  ['C E G Bb D A', '13 9(13) 7(9,13)'],
  ['C E G Bb A', '7(13) 7add13 7/13'],
  ['C E Gb Bb', '7b5 7-5 7(b5) 7flat5 7♭5'],
  ['C E G# Bb', '7#5 7+ +7 aug7 7+5 7(#5) 7aug 7♯5 7sharp5'],
  ['C E Gb G# Bb', '7b5#5 7(b5,#5)'],
  ['C E G Bb Db', '7b9 7-9 7(b9) 7flat9 7/b9 7(♭9) dom7b9'],
  ['C E G Bb D#', '7#9 7+9 7(#9) 7sharp9'],
  ['C E G Bb Db D#', '7b9#9 7#9b9 7(b9,#9) 7(b9)(#9)'],
  ['C E G Bb F#', '7#11 7+11 7(#11) 7sharp11'],
  ['C E G Bb Ab', '7b13 7-13 7(b13)'],
  ['C E G Bb Db F#', '7b9#11 7(b9,#11) 7(b9 #11) 7(b9#11) 7b9(#11) 7#11b9 7b9,#11'],
  ['C E G Bb Db Ab', '7b9b13 7(b9,b13) 7(b9b13) 7(b9/b13)'],
  ['C E G Bb D# Ab', '7#9b13 7(#9,b13)'],
  ['C E G# Bb Db', '7b9#5 7#5b9 +7b9 7(#5,b9)'],
  ['C E G# Bb D#', '7#5#9 7#9#5 +7#9 7+9+5'],
  ['C E G Bb Db A', '13b9 13(b9) 13-9'],
  ['C E G Bb D# A', '13#9'],
  ['C E G Bb D F#', '9#11 9+11 9(#11)'],
  ['C E G Bb D F# A', '13#11 13(#11)'],
  ['C E G Bb D Ab', '9b13'],
  ['C E G# Bb D', '9#5 9+ +9 aug9'],
  ['C E Gb Bb D', '9b5'],
  ['C E Bb', 'alt 7alt 7(alt) altered (alt) ALT 7no5 7omit5 7(no5)'],
  ['C G Bb', '7no3 7(no3) 7omit3'],
  ['C E B', 'maj7no5 M7(omit5)'],
];

/** Every spelling, without a root. */
export const QUALITIES: readonly string[] = SPELLINGS.flatMap(([, spellings]) =>
  splitOutsideParentheses(spellings),
);

/** Splits at single spaces that stand outside parentheses; two spaces in a row hold the empty spelling between them. */
export function splitOutsideParentheses(row: string): readonly string[] {
  return row.split(/ (?![^(]*\))/);
}

/** Roots a chart uses: every letter natural, flat and sharp. */
export const ROOTS: readonly string[] = [...'CDEFGAB'].flatMap((letter) => [
  letter,
  `${letter}b`,
  `${letter}#`,
]);

/** The symbol of a text that must read. */
export function chord(text: string): ChordSymbol {
  const read = parseChordSymbol(text);
  if (!read.ok) throw new Error(`${text} does not read: ${JSON.stringify(read.problems)}`);
  return read.value;
}
