import { describe, expect, it } from 'vitest';
import { planNames } from '../../../src/core/chart/index.ts';
import { LANTERN_WALK } from './example.ts';
import { barsOf, chartOf, contentOf, formOf, symbolsOf } from './reading.ts';

describe('the example of the chart text page', () => {
  const chart = chartOf(LANTERN_WALK);

  it('has its headers, one section and two plans', () => {
    expect(chart).toMatchObject({
      title: 'Lantern Walk',
      meter: { count: 4, unit: 4 },
      tempoBpm: 66,
      headers: [],
    });
    expect(chart.sections.map(({ name, bars }) => [name, bars.length])).toEqual([['A', 8]]);
    expect(planNames(chart)).toEqual(['plain', 'side door']);
  });

  it('places its chords', () => {
    expect(barsOf(chart).map(contentOf)).toEqual([
      'Bbmaj7@1+4',
      'Cm7@1+2 F7@3+2',
      'Dm7b5@1+4',
      'G7@1+4',
      'Cm7@1+4',
      '%',
      'Cm7@1+2 F7@3+2',
      'Bb6@1+3 F7@4+1',
    ]);
  });

  it('plays the second plan over the same form', () => {
    const form = formOf(chart, 'side door');
    expect(symbolsOf(form)).toEqual([
      'Bbmaj7',
      'Cm7 B7',
      'Dm7b5',
      'Db7',
      'Cm7',
      'Cm7',
      'Cm7 F7',
      'Bb6 F7',
    ]);
    // Spellings: each letter once, by common practice, no source.
    expect(form.bars[1]?.chords[1]?.chosen).toMatchObject({
      given: true,
      palette: {
        name: 'lydian dominant',
        root: 'B',
        notes: ['B', 'C#', 'D#', 'E#', 'F#', 'G#', 'A'],
      },
    });
    expect(form.bars[3]?.chords[0]?.chosen?.palette.notes).toEqual([
      'Db',
      'Eb',
      'F',
      'Gb',
      'Ab',
      'Bb',
      'Cb',
    ]);
    expect(form.bars[2]?.chords[0]?.chosen?.palette.notes).toEqual([
      'D',
      'E',
      'F',
      'G',
      'Ab',
      'Bb',
      'C',
    ]);
  });
});
