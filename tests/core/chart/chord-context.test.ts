import { describe, expect, it } from 'vitest';
import { chordContexts } from '../../../src/core/chart/chord-context.ts';
import { chordOf } from '../../helpers/arbitrary-chart.ts';

/** The neighbours of each chord as `previous>next`; `-` is N.C. in, and nothing out. */
function neighbours(chords: string): readonly string[] {
  const symbols = chords.split(' ').map((text) => (text === '-' ? null : chordOf(text)));
  return chordContexts(symbols).map(
    ({ previous, next }) => `${previous?.text ?? '-'}>${next?.text ?? '-'}`,
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
});
