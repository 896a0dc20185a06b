import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Chart, isSameMeter, type WrittenBar } from '../../../src/core/chart/index.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { barsOf } from './reading.ts';

const chordsOf = (bar: WrittenBar) => (bar.content.kind === 'chords' ? bar.content.chords : []);

const some = (test: (bar: WrittenBar) => boolean) => (chart: Chart) => barsOf(chart).some(test);

// The laws of charts hold nothing if the charts they run on lack a thing: each must be met among a few hundred.
describe('random charts', () => {
  const charts = fc.sample(arbitraryChart(), { numRuns: 300, seed: 7 });

  it.each<readonly [string, (chart: Chart) => boolean]>([
    ['a repeat', some(({ repeatEnd, endings }) => repeatEnd && endings.length === 0)],
    ['a third ending', some(({ endings }) => endings.join() === '3')],
    ['an ending for two times', some(({ endings }) => endings.length === 2)],
    ['a segno', some(({ startMark }) => startMark === 'segno')],
    ['a coda', some(({ startMark }) => startMark === 'coda')],
    ['an end before the end', some(({ endMark }) => endMark?.kind === 'fine')],
    ['a jump', some(({ endMark }) => endMark?.kind === 'jump')],
    ['a double bar', some(({ doubleAfter }) => doubleAfter)],
    ['a bar that repeats the one before', some(({ content }) => content.kind === 'same')],
    ['a bar without a chord', some((bar) => chordsOf(bar).some(({ symbol }) => symbol === null))],
    [
      'a palette named by the writer',
      some((bar) => chordsOf(bar).some(({ given }) => given !== null)),
    ],
    [
      'a held chord beside a shorter one',
      some((bar) => new Set(chordsOf(bar).map(({ beats }) => beats)).size > 1),
    ],
    [
      'a meter change inside a section',
      ({ sections }) =>
        sections.some(({ bars }) =>
          bars.some((bar, index) => !isSameMeter(bar.meter, bars[index - 1]?.meter ?? bar.meter)),
        ),
    ],
    [
      'a first bar in another meter than the chart',
      (chart) => !isSameMeter(barsOf(chart)[0]?.meter ?? chart.meter, chart.meter),
    ],
    [
      'bars before the first section name',
      ({ sections }) => sections.length > 1 && sections[0]?.name === null,
    ],
    ['a pickup without chords', ({ pickup }) => pickup?.chords.length === 0],
    ['a pickup with chords', ({ pickup }) => (pickup?.chords.length ?? 0) > 1],
    ['a pickup that begins within a beat', ({ pickup }) => (pickup?.eighths ?? 0) % 2 === 1],
    ['another header', ({ headers }) => headers.length > 0],
    ['no tempo', ({ tempoBpm }) => tempoBpm === null],
    ['a minor key', ({ key }) => key.mode === 'minor'],
    [
      'a plan that keeps some bars',
      ({ plans }) => plans.some(({ bars }) => new Set(bars.map(({ kind }) => kind)).size === 2),
    ],
  ])('hold %s', (_, test) => {
    expect(charts.filter(test).length).toBeGreaterThan(3);
  });
});
