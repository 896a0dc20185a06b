/**
 * The chord/scale table. Sources: SAB = M. Sabatella, A Jazz Improvisation Primer, 1992–96, Chord/Scale Chart; TER =
 * D. Terefenko, Jazz Theory, 2014, chapter 8, list of scale categories. A row without either is common practice, no source.
 * The charts give no key, so each row stands in every major key
 * that does not decide for it: the chord is the tonic, or, for a dominant, leads nowhere.
 */

import { describe, expect, it } from 'vitest';
import {
  choosePalettes,
  findScale,
  paletteMask,
  parseTone,
  scalePalette,
} from '../../../src/core/theory/index.ts';
import { chord, ROOTS } from '../../core/theory/symbols.ts';

/** Chord, the scale charts give first, further scales they give; on C in the charts. */
const TABLE: readonly (readonly [qualities: string, first: string, further: readonly string[]])[] =
  [
    ['maj7 maj9', 'ionian', ['lydian']], // SAB
    ['maj7#11', 'lydian', []], // SAB
    ['6 6/9', 'ionian', ['major pentatonic']], // SAB for 6
    ['m7 m9', 'dorian', []], // SAB: no context
    ['m7b5', 'locrian', ['locrian natural 2']], // SAB TER
    ['dim7', 'whole-half diminished', []], // SAB
    ['7', 'mixolydian', ['lydian dominant', 'bebop dominant']], // SAB
    ['9 13', 'mixolydian', ['lydian dominant', 'bebop dominant']], // SAB
    ['7sus4 9sus4 11', 'mixolydian', []], // SAB TER
    ['7b9', 'half-whole diminished', ['phrygian dominant']], // SAB lists both; the order: common practice
    ['7b9b13', 'phrygian dominant', []], // Common practice
    ['7alt 7#5#9', 'altered', []], // SAB TER
    ['7#11 9#11 13#11', 'lydian dominant', []], // SAB TER
    ['13b9', 'half-whole diminished', []], // Common practice
    ['7#5 aug7', 'whole tone', []], // SAB
    ['7b13', 'mixolydian b6', []], // TER
    ['mMaj7', 'melodic minor', ['harmonic minor']], // SAB
    ['m6', 'melodic minor', ['dorian']], // SAB
    ['7susb9', 'phrygian', ['dorian b2']], // SAB (the later of two editions seen), TER
    ['maj7#5', 'lydian augmented', ['ionian #5', 'augmented']], // SAB TER
  ];

const rows = TABLE.flatMap(([qualities, first, further]) =>
  qualities.split(' ').map((quality) => [quality, first, further] as const),
);

function choicesOnTonic(root: string, quality: string): readonly string[] {
  const symbol = chord(root + quality);
  const key = { tonic: symbol.root, mode: 'major' as const };
  return choosePalettes({ symbol, key, before: [], after: [] }).map(({ palette }) => palette.name);
}

describe('the published chord/scale table', () => {
  it.each(rows)('%s takes %s', (quality, first, further) => {
    for (const root of ROOTS) {
      const [proposal, ...others] = choicesOnTonic(root, quality);
      expect([root, proposal]).toEqual([root, first]);
      for (const name of further)
        expect([root, others]).toEqual([root, expect.arrayContaining([name])]);
    }
  });

  it('7#9 alone takes altered (SAB) or half-whole (common practice)', () => {
    for (const root of ROOTS)
      expect(['altered', 'half-whole diminished']).toContain(choicesOnTonic(root, '7#9')[0]);
  });

  it('m7 as ii, iii and vi of a major key is dorian, phrygian and aeolian (common practice)', () => {
    const key = { tonic: 0, mode: 'major' as const };
    const names = ['Dm7', 'Em7', 'Am7'].map(
      (text) =>
        choosePalettes({ symbol: chord(text), key, before: [], after: [] })[0]?.palette.name,
    );
    expect(names).toEqual(['dorian', 'phrygian', 'aeolian']);
  });

  it('an augmented triad is whole tone as a dominant (SAB)', () => {
    const key = { tonic: -1, mode: 'major' as const };
    const [proposal] = choosePalettes({
      symbol: chord('C+'),
      key,
      before: [],
      after: [chord('F')],
    });
    expect(proposal?.palette.name).toBe('whole tone');
  });

  it('the substitute Db7 has the notes of G altered (common practice)', () => {
    const key = { tonic: 0, mode: 'major' as const };
    const [proposal] = choosePalettes({
      symbol: chord('Db7'),
      key,
      before: [chord('Dm7')],
      after: [chord('Cmaj7')],
    });
    expect(proposal?.palette.name).toBe('lydian dominant');
    expect(proposal?.palette.pcs.toSorted((a, b) => a - b)).toEqual([1, 3, 5, 7, 8, 10, 11]);
    const altered = findScale('altered');
    const onG = altered === null ? null : scalePalette(altered, parseTone('G') ?? 0);
    expect(onG === null ? 0 : paletteMask(onG)).toBe(
      proposal === undefined ? 1 : paletteMask(proposal.palette),
    );
  });

  it('phrygian dominant is the harmonic minor a fourth up, altered the melodic minor a semitone up', () => {
    const set = (name: string, root: string): readonly number[] => {
      const scale = findScale(name);
      const pcs = scale === null ? [] : scalePalette(scale, parseTone(root) ?? 0).pcs;
      return pcs.toSorted((a, b) => a - b);
    };
    expect(set('phrygian dominant', 'C')).toEqual(set('harmonic minor', 'F'));
    expect(set('altered', 'C')).toEqual(set('melodic minor', 'Db'));
    expect(set('whole-half diminished', 'C')).not.toEqual(set('half-whole diminished', 'C'));
  });
});
