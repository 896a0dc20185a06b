import { describe, expect, it } from 'vitest';
import { parseChart, type WrittenChord } from '../../../src/core/chart/index.ts';
import { barsOf, chartOf, contentOf, formOf, problemsOf, symbolsOf, textOf } from './reading.ts';

function chordsOf(bars: string): readonly WrittenChord[] {
  return barsOf(chartOf(textOf(bars))).flatMap(({ content }) =>
    content.kind === 'chords' ? content.chords : [],
  );
}

describe('chords', () => {
  it('keeps a chord as it was written', () => {
    expect(chordsOf('| C-7 Bbmaj7/D |').map(({ symbol }) => symbol?.text)).toEqual([
      'C-7',
      'Bbmaj7/D',
    ]);
  });

  it('takes parentheses with white space inside as part of the chord', () => {
    expect(chordsOf('| C7(b9, b13) F |').map(({ beats }) => beats)).toEqual([2, 2]);
  });

  it('places a chord that is none, with what was read', () => {
    expect(parseChart(textOf('| C | Hm7 |'))).toMatchObject({
      ok: false,
      problems: [{ code: 'unknownChord', line: 4, column: 7 }],
    });
  });

  it('places a problem inside the symbol at the part that was not understood', () => {
    expect(problemsOf(textOf('| C7/H |'))).toEqual(['unknownChord 4:6']);
  });

  it('sees slashes run together', () => {
    expect(parseChart(textOf('| C /// |'))).toMatchObject({
      ok: false,
      problems: [{ code: 'unknownChord', line: 4, column: 5, suggestion: '/ / /' }],
    });
  });

  it.each(['N.C.', 'NC', 'N.C', 'n.c.'])('%s is no chord', (text) => {
    expect(chordsOf(`| ${text} |`)).toEqual([{ beat: 1, beats: 4, symbol: null, given: null }]);
  });
});

describe('%', () => {
  it('is kept as written and repeats the bar before it when played, palette and all', () => {
    const chart = chartOf(textOf('| C7 <lydian dominant> F | % | % |'));
    expect(barsOf(chart).map(contentOf)).toEqual(['C7@1+2 F@3+2', '%', '%']);
    const form = formOf(chart);
    expect(symbolsOf(form)).toEqual(['C7 F', 'C7 F', 'C7 F']);
    expect(form.bars[2]?.chords[0]?.chosen).toMatchObject({
      given: true,
      palette: { name: 'lydian dominant' },
    });
  });

  it('repeats the bar written before it after a repeat', () => {
    expect(symbolsOf(formOf(chartOf(textOf('|: C | F :| % |'))))).toEqual([
      'C',
      'F',
      'C',
      'F',
      'F',
    ]);
  });

  it.each([
    ['| % | C |', 'sameWithoutBar 4:3'],
    ['| C | % F |', 'sameWithOthers 4:9'],
    ['| C | F % |', 'sameWithOthers 4:7'],
    ['| C | % <dorian> |', 'sameWithOthers 4:9'],
    ['| C |: % :|', 'sameAfterRepeat 4:8'],
    ['|: C |1 F :|2 % |', 'sameAfterRepeat 4:15'],
    ['| C | (3/4) | % |', 'sameAcrossMeters 4:15'],
  ])('%s is refused', (bars, problem) => {
    expect(problemsOf(textOf(bars))).toEqual([problem]);
  });

  it('may stand in a first ending', () => {
    expect(symbolsOf(formOf(chartOf(textOf('|: C |1 % :|2 G |'))))).toEqual(['C', 'C', 'C', 'G']);
  });
});

describe('palettes named by the chart', () => {
  it.each([
    ['| G7 <phrygian dominant> |', 'phrygian dominant'],
    ['| G7<phrygian dominant> |', 'phrygian dominant'],
    ['| G7 < phrygian dominant > |', 'phrygian dominant'],
    ['| Cm7 <C D Eb F# G A Bb> |', 'C D Eb F# G A Bb'],
    ['| Dm7b5 <F melodic minor> |', 'F melodic minor'],
  ])('%s', (bars, text) => {
    expect(chordsOf(bars)[0]?.given?.text).toBe(text);
  });

  it('belongs to the chord before it alone', () => {
    expect(chordsOf('| Cm7 F7 <altered> |').map(({ given }) => given?.text ?? null)).toEqual([
      null,
      'altered',
    ]);
  });

  it.each([
    ['| C7 <doriann> |', 'unknownPalette 4:7'],
    ['| C7 <  doriann> |', 'unknownPalette 4:9'],
    ['| C7 <C D H E> |', 'unknownPalette 4:11'],
    ['| C7 <  > |', 'emptyPalette 4:6'],
    ['| C7 <dorian | F |', 'paletteNotClosed 4:6'],
    ['| C7 <dorian', 'paletteNotClosed 4:6'],
    ['| <dorian> C7 |', 'paletteWithoutChord 4:3'],
    ['| N.C. <dorian> |', 'paletteWithoutChord 4:8'],
    ['| C7 <dorian> <lydian> |', 'paletteWithoutChord 4:15'],
    ['| C7 / <dorian> / F |', 'paletteWithoutChord 4:8'],
  ])('%s is refused', (bars, problem) => {
    expect(problemsOf(textOf(bars))).toContain(problem);
  });
});

describe('a meter change', () => {
  it.each([
    '| C | (3/4) | F |',
    '| C |\n(3/4)\n| F |',
    '| C |\n(3/4) | F |',
    '| C | (3/4) F |',
    '| C | (3/4)\n| F |',
  ])('%j holds from the next bar on', (bars) => {
    expect(barsOf(chartOf(textOf(bars))).map(({ meter }) => meter.count)).toEqual([4, 3]);
  });

  it('holds until the next one, in later sections too', () => {
    const chart = chartOf(textOf('| C |\n[B]\n(3/4)\n| C |\n[C]\n| C F |\n(6/8)\n| C |'));
    const bars = barsOf(chart);
    expect(bars.map(({ meter }) => `${meter.count}/${meter.unit}`)).toEqual([
      '4/4',
      '3/4',
      '3/4',
      '6/8',
    ]);
    expect(contentOf(bars[2])).toBe('C@1+2 F@3+1');
    expect(chart.meter).toEqual({ count: 4, unit: 4 });
  });

  it.each([
    ['| C | (3/8) | F |', 'unknownMeter 4:7'],
    ['| C (3/4) |', 'meterInsideBar 4:5'],
    ['| C |\n(3/4)', 'meterWithoutBar 5:1'],
  ])('%j is refused', (bars, problem) => {
    expect(problemsOf(textOf(bars))).toEqual([problem]);
  });

  it('does not judge the beats of a bar whose meter was not understood', () => {
    expect(problemsOf(textOf('| C | (3/8) | C F G A B C |'))).toEqual(['unknownMeter 4:7']);
  });
});
