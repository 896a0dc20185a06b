import { describe, expect, it } from 'vitest';
import { chordContexts, chordContextsOnce } from '../../../src/core/chart/chord-context.ts';
import { chordOf } from '../../helpers/arbitrary-chart.ts';

/** The neighbours of each chord as `previous>next`; `-` is N.C. in, and nothing out. */
function neighbours(chords: string): readonly string[] {
  const symbols = chords.split(' ').map((text) => (text === '-' ? null : chordOf(text)));
  return chordContexts(symbols).map(
    ({ before: [previous], after: [next] }) => `${previous?.text ?? '-'}>${next?.text ?? '-'}`,
  );
}

describe('the chords around a chord', () => {
  it.each([
    ['in a row, around the form', 'C F G', ['G>F', 'C>G', 'F>C']],
    ['two chords have each other on both sides', 'C F', ['F>F', 'C>C']],
    ['past repetitions', 'C C F F G', ['G>F', 'G>F', 'C>G', 'C>G', 'F>C']],
    ['past repetitions that go around', 'C F G C', ['G>F', 'C>G', 'F>C', 'G>F']],
    [
      'past N.C.',
      'C - F - G',
      ['G>F', 'C>F', 'C>G', 'F>G', 'F>C'].map((pair, index) => (index % 2 ? null : pair)),
    ],
    ['none for a chord alone', 'C C - C', ['->-', '->-', null, '->-']],
  ])('%s', (_, chords, expected) => {
    // What N.C. itself gets is nobody's business: it has no palette to choose.
    const got = neighbours(chords).map((pair, index) => (expected[index] === null ? null : pair));
    expect(got).toEqual(expected);
  });

  it('are seen far enough for a ii–V–I, each of its chords in several forms, and no further than eight', () => {
    const chords = 'Gm7 Gm9 Gm7 C7sus4 C7 C7b9 Fmaj7 Bb7 Eb7 Ab7'.split(' ').map(chordOf);
    const [first] = chordContexts(chords);
    const texts = (symbols: readonly { readonly text: string }[] | undefined) =>
      symbols?.map(({ text }) => text).join(' ');
    expect(texts(first?.after)).toBe('Gm9 Gm7 C7sus4 C7 C7b9 Fmaj7 Bb7 Eb7');
    expect(texts(first?.before)).toBe('Ab7 Eb7 Bb7 Fmaj7 C7b9 C7 C7sus4 Gm7');
  });

  it('of a pickup end where it begins and where it has led', () => {
    const contexts = chordContextsOnce(
      ['C', 'C', 'F', null, 'G'].map((text) => (text === null ? null : chordOf(text))),
    );
    expect(contexts.map(({ before, after }) => [before.length, after.length])).toEqual([
      [0, 2],
      [0, 2],
      [1, 1],
      [1, 1],
      [2, 0],
    ]);
  });
});
