/** A palette named for one chord, its like, or its function. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatChart, parseChart, type WrittenChord } from '../../../src/core/chart/index.ts';
import { PALETTE_REACHES, setPalette } from '../../../src/core/plan/index.ts';
import { formatPaletteText, SCALES, scalePalette } from '../../../src/core/theory/index.ts';
import { arbitraryChart, chordOf, givenOf } from '../../helpers/arbitrary-chart.ts';
import { chartOf } from '../chart/reading.ts';

const CHART = chartOf(
  'title: a\nkey: C\nmeter: 4/4\n| Dm7 G7 | Cmaj7 | Gm7 | % |\n| Dm7 | C7 | Dm7 | G7 |\n\nplan: two\n| % | % | Em7 | % |\n| % | % | % | % |\n',
);

const bars = (chart: typeof CHART) => formatChart(chart).split('\n').slice(4);

describe('naming a palette', () => {
  const dorian = givenOf('dorian', chordOf('Dm7'));

  test('for one chord leaves its like alone', () => {
    const [first, second] = bars(setPalette(CHART, 'plain', { bar: 0, chord: 0 }, 'chord', dorian));
    expect(first).toContain('Dm7 <dorian> G7');
    expect(second).not.toContain('<');
  });

  test('for its function reaches the same chord everywhere, and no other root', () => {
    const set = setPalette(CHART, 'plain', { bar: 0, chord: 0 }, 'function', dorian);
    expect(formatChart(set).match(/Dm7 <dorian>/g)).toHaveLength(3);
    expect(formatChart(set)).not.toContain('Gm7 <');
  });

  test('for its quality reaches every root; a scale’s name stays, notes move along', () => {
    const scale = setPalette(CHART, 'plain', { bar: 0, chord: 0 }, 'quality', dorian);
    expect(formatChart(scale)).toContain('Gm7 <dorian>');
    const notes = givenOf('D F G A C', chordOf('Dm7'));
    const moved = setPalette(CHART, 'plain', { bar: 0, chord: 0 }, 'quality', notes);
    expect(formatChart(moved)).toContain('Gm7 <G Bb C D F>');
  });

  test('in a further plan leaves the chart as it is, and copies the bars it needs', () => {
    const set = setPalette(CHART, 'two', { bar: 0, chord: 0 }, 'chord', dorian);
    expect(set.sections).toEqual(CHART.sections);
    expect(formatChart(set)).toContain('plan: two\n| Dm7 <dorian> G7 | % | Em7 | % |');
  });

  test('of a function does not ask how a root is spelled', () => {
    const chart = chartOf('title: a\nkey: Db\nmeter: 4/4\n| C#m7 F#7 | Dbm7 Gb7 | Gbmaj7 |\n');
    const given = givenOf('altered', chordOf('F#7'));
    const set = setPalette(chart, 'plain', { bar: 0, chord: 1 }, 'function', given);
    expect(formatChart(set)).toContain('| C#m7 F#7 <altered> | Dbm7 Gb7 <altered> | Gbmaj7 |');
  });

  test('in a % of the chart goes to the bar it repeats; in a % of a plan to that bar alone', () => {
    const inPlain = setPalette(CHART, 'plain', { bar: 3, chord: 0 }, 'chord', dorian);
    expect(formatChart(inPlain)).toContain('| Dm7 G7 | Cmaj7 | Gm7 <dorian> | % ');
    const inPlan = setPalette(CHART, 'two', { bar: 3, chord: 0 }, 'chord', dorian);
    expect(formatChart(inPlan)).toContain('| % | % | Em7 | Gm7 <dorian> |');
  });

  test.each(SCALES)('of $name is written so that it reads back', (scale) => {
    const palette = scalePalette(scale, 2);
    const given = { text: formatPaletteText(palette, 2), palette };
    const set = setPalette(CHART, 'plain', { bar: 0, chord: 0 }, 'quality', given);
    expect(set).not.toBe(CHART);
    expect(parseChart(formatChart(set))).toEqual({ ok: true, value: set });
  });

  test('that is there already, or taking away none, gives back the very chart', () => {
    const untouched = setPalette(CHART, 'two', { bar: 0, chord: 0 }, 'quality', null);
    expect(untouched).toBe(CHART);
    expect(setPalette(CHART, 'three', { bar: 0, chord: 0 }, 'chord', null)).toBe(CHART);
  });

  test('leaves the written-out bars of a plan as they are, even where they say what the chart says', () => {
    const text = 'title: a\nkey: C\nmeter: 4/4\n| Dm7 | G7 |\n\nplan: two\n| Dm7 <dorian> | G7 |\n';
    const chart = chartOf(text);
    const set = setPalette(chart, 'two', { bar: 0, chord: 0 }, 'chord', null);
    expect(formatChart(set)).toContain('plan: two\n| % | G7 |');
  });

  test('and taking it away gives the chart back, whatever the chart', () => {
    fc.assert(
      fc.property(
        arbitraryChart(),
        fc.nat(),
        fc.constantFrom(...PALETTE_REACHES),
        fc.constantFrom(
          'half-whole diminished',
          'C D Eb F# G A Bb',
          'F# melodic minor',
          'Cb Eb Gb',
        ),
        (chart, pick, reach, text) => {
          const places = chart.sections
            .flatMap(({ bars: own }) => own)
            .flatMap(({ content }, bar) =>
              content.kind === 'same'
                ? []
                : content.chords.map((written, chord) => ({ bar, chord, written })),
            );
          const place = places[pick % places.length];
          if (place === undefined || place.written.symbol === null) return;
          const given = givenOf(text, place.written.symbol);
          const set = setPalette(chart, 'plain', place, reach, given);
          expect(parseChart(formatChart(set))).toEqual({ ok: true, value: set });
          const bare = (one: typeof chart) => setPalette(one, 'plain', place, reach, null);
          expect(bare(set)).toEqual(bare(chart));
          const own = (one: WrittenChord | undefined) => one?.given?.text ?? null;
          const at = set.sections.flatMap(({ bars: all }) => all)[place.bar]?.content;
          expect(at?.kind === 'chords' ? own(at.chords[place.chord]) : null).toBe(text);
        },
      ),
    );
  });
});
