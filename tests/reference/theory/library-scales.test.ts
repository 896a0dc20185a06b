/** Pitch content of scales against two unrelated libraries: tonal 6.4.3 and teoria 2.5.0 (both MIT). */

import teoria from 'teoria';
import { Note, Scale } from 'tonal';
import { describe, expect, it } from 'vitest';
import { findScale, parseTone, SCALES, scalePalette } from '../../../src/core/theory/index.ts';

/** Both libraries read these roots. */
const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];

/** Our name to tonal's, where tonal has the scale under another one. */
const TONAL_NAMES = new Map([
  ['ionian', 'major'],
  ['aeolian', 'minor'],
  ['locrian natural 2', 'locrian #2'],
  ['altered bb7', 'ultralocrian'],
  ['ionian #5', 'major augmented'],
  ['lydian #2', 'lydian #9'],
  ['lydian b3', 'lydian diminished'],
  ['whole-half diminished', 'diminished'],
  ['bebop dominant', 'bebop'],
  ['bebop dorian', 'bebop minor'],
  ['blues', 'minor blues'],
]);

/** Ours that tonal lacks, among them the two-way form. */
const NOT_IN_TONAL = [
  'dorian b5',
  'phrygian b4',
  'mixolydian b2',
  'lydian augmented #2',
  'locrian bb7',
  'bebop dorian natural 7',
  'bebop melodic minor',
  'melodic minor up and down',
];

function pcsOf(name: string, root: string): readonly number[] {
  const scale = findScale(name);
  const tone = parseTone(root);
  if (scale === null || tone === null) throw new Error(`${root} ${name}`);
  return scalePalette(scale, tone).pcs;
}

describe('tonal', () => {
  const shared = SCALES.map(({ name }) => name).filter((name) => !NOT_IN_TONAL.includes(name));

  it.each(shared)('%s has the same notes on every root', (name) => {
    for (const root of ROOTS) {
      const notes = Scale.get(`${root} ${TONAL_NAMES.get(name) ?? name}`).notes;
      const pcs = notes.map((note) => Note.chroma(note));
      expect([root, pcs]).toEqual([root, pcsOf(name, root)]);
    }
  });

  it.each(NOT_IN_TONAL)('%s is not there under our name', (name) => {
    expect(Scale.get(`C ${name}`).empty).toBe(true);
  });
});

describe('teoria', () => {
  it.each([
    ['ionian', 'ionian'],
    ['dorian', 'dorian'],
    ['phrygian', 'phrygian'],
    ['lydian', 'lydian'],
    ['mixolydian', 'mixolydian'],
    ['aeolian', 'aeolian'],
    ['locrian', 'locrian'],
    ['melodic minor', 'melodicminor'],
    ['harmonic minor', 'harmonicminor'],
    ['blues', 'blues'],
    ['major pentatonic', 'majorpentatonic'],
    ['minor pentatonic', 'minorpentatonic'],
    ['whole tone', 'wholetone'],
    ['chromatic', 'chromatic'],
  ])('%s has the same notes on every root', (name, theirs) => {
    for (const root of ROOTS) {
      const notes = teoria.note(`${root.toLowerCase()}3`).scale(theirs).notes();
      const pcs = notes.map((note) => (note.chroma() + 12) % 12);
      expect([root, pcs]).toEqual([root, pcsOf(name, root)]);
    }
  });
});
