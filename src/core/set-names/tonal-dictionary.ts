/**
 * The one door to tonal, a library of scales and chords, of which two parts are shipped: its dictionaries (@tonaljs/scale-type
 * 4.9.2, @tonaljs/chord-type 5.1.1), asked by a set of intervals. What the program itself reads and proposes comes from its own
 * tables, which the library is held against in tests.
 */

import { get as chordType } from '@tonaljs/chord-type';
import { get as scaleType } from '@tonaljs/scale-type';

/** Names of the scale that has just these semitones above its root; empty where the library knows none. */
export function scaleNamesOf(semitones: ReadonlySet<number>): readonly string[] {
  const { name, aliases, empty } = scaleType(chromaOf(semitones));
  return empty ? [] : [name, ...aliases];
}

/** Ways to write the chord that has just these semitones above its root, without the root. */
export function chordEndingsOf(semitones: ReadonlySet<number>): readonly string[] {
  const { aliases, empty } = chordType(chromaOf(semitones));
  return empty ? [] : aliases;
}

const SEMITONES = 12;

/** Twelve digits from the root upwards: 1 where the set has the tone. */
function chromaOf(semitones: ReadonlySet<number>): string {
  const digits = Array.from({ length: SEMITONES }, (_, at) => (semitones.has(at) ? '1' : '0'));
  return digits.join('');
}
