/**
 * Scales for minor chords. Sources as in `major.rules.ts`.
 *
 * What a tonic m7 gets, and why: dorian, in every minor key and with any neighbours (as ii of another key too). The minor seventh rules out melodic and
 * harmonic minor, the published chart gives dorian for m7 without context (SAB), modal charts mean dorian, and one
 * symbol on one degree then keeps one palette through a chart, so that no change of scale appears where the chart
 * has none. Aeolian, the key signature's own scale, is the first alternative. A plain tonic triad, m6 and mMaj7 get
 * melodic minor, whose sixth and seventh agree with the V that leads there.
 */

import {
  endsCadence,
  I,
  II,
  III,
  IV,
  isTwoOfCadence,
  isTwoOfNext,
  isTwoOfResolution,
  leadsOnToTonic,
  V,
  VI,
} from './place.ts';
import { all, always, hasAny, inMajor, inMinor, not, type PaletteRule } from './rule.ts';

const hasSixthOnly = all(hasAny('6', '13'), not(hasAny('b7')));
/** As ii of another key it is no tonic; in a vamp with its IV7 it stays the tonic. Common practice, no source. */
const isTonic = all(inMinor(I), not(isTwoOfResolution));
/** The iv of minor on its way to I, over bVII7 too: not as ii of bIII. */
const isBorrowedFour = all(inMajor(IV), not(all(isTwoOfNext, not(leadsOnToTonic))));

export const MINOR_RULES: readonly PaletteRule[] = [
  {
    // SAB: mMaj7.
    when: hasAny('7'),
    offers: [
      { scale: 'melodic minor', reason: 'minor chord with a major seventh' },
      { scale: 'harmonic minor', reason: 'minor chord with a major seventh, flat sixth' },
    ],
  },
  {
    // Common practice: the related ii is dorian, whatever its degree. Into minor the key's own notes stay: the flat ninth
    // of the ii is the minor third of where it goes.
    when: all(isTwoOfCadence, not(inMajor(II)), not(hasAny('7'))),
    offers: [{ scale: 'dorian', reason: 'ii of the dominant that follows' }],
  },
  {
    // SAB: m6 melodic minor, dorian also.
    when: all(hasSixthOnly, isTonic),
    offers: [
      { scale: 'melodic minor', reason: 'tonic minor with a sixth' },
      { scale: 'dorian', reason: 'tonic minor with a sixth, minor seventh' },
    ],
  },
  {
    when: all(hasSixthOnly, not(isTonic)),
    keyFirst: true,
    offers: [
      { scale: 'melodic minor', reason: 'minor chord with a sixth, major seventh' },
      { scale: 'dorian', reason: 'minor chord with a sixth, minor seventh' },
    ],
  },
  {
    // SAB; see above.
    when: all(isTonic, hasAny('b7')),
    offers: [
      { scale: 'dorian', reason: 'tonic minor seventh' },
      { scale: 'aeolian', reason: "tonic minor seventh with the key's own sixth" },
    ],
  },
  {
    // Common practice.
    when: all(isTonic, not(hasAny('b7'))),
    offers: [
      { scale: 'melodic minor', reason: 'tonic of a minor key' },
      { scale: 'dorian', reason: 'tonic of a minor key, minor seventh' },
      { scale: 'harmonic minor', reason: 'tonic of a minor key, flat sixth' },
      { scale: 'aeolian', reason: 'tonic of a minor key, as its signature says' },
      { scale: 'melodic minor up and down', reason: 'tonic of a minor key, classical form' },
    ],
  },
  {
    // Common practice.
    when: inMajor(II),
    offers: [{ scale: 'dorian', reason: 'ii of a major key' }],
  },
  {
    // Common practice.
    when: inMajor(III),
    offers: [
      { scale: 'phrygian', reason: 'iii of a major key' },
      { scale: 'aeolian', reason: 'iii of a major key with a natural ninth' },
    ],
  },
  {
    // Common practice.
    when: inMajor(VI),
    offers: [{ scale: 'aeolian', reason: 'vi of a major key' }],
  },
  {
    // Common practice: iv as a sixth chord is melodic minor, as a seventh chord dorian.
    when: isBorrowedFour,
    offers: [
      { scale: 'melodic minor', reason: 'iv borrowed from minor' },
      { scale: 'dorian', reason: 'iv borrowed from minor' },
    ],
  },
  {
    // Common practice: the key's own notes.
    when: inMinor(IV),
    offers: [{ scale: 'dorian', reason: 'iv of a minor key' }],
  },
  {
    // Common practice: its ii–V has raised the second degree above it, which phrygian would lower again.
    when: all(inMinor(V), endsCadence),
    offers: [{ scale: 'aeolian', reason: 'its own ii–V resolves here: a new tonic for a while' }],
  },
  {
    when: inMinor(V),
    offers: [{ scale: 'phrygian', reason: 'minor v of a minor key' }],
  },
  {
    // Common practice: the ii of any dominant.
    when: isTwoOfNext,
    offers: [{ scale: 'dorian', reason: 'ii of the dominant that follows' }],
  },
  {
    // SAB: no context, dorian.
    when: always,
    offers: [
      { scale: 'dorian', reason: 'minor chord: the usual minor sound' },
      { scale: 'aeolian', reason: 'flat sixth: natural minor' },
      { scale: 'melodic minor', reason: 'major seventh on a chord that leaves it open' },
      { scale: 'phrygian', reason: 'flat ninth and flat sixth' },
      { scale: 'minor pentatonic', reason: 'five notes that all agree with the chord' },
      { scale: 'blues', reason: 'minor pentatonic with the flat fifth' },
      { scale: 'bebop dorian', reason: 'the major third as a passing note' },
    ],
  },
];
