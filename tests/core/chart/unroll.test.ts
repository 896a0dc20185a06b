import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beatsPerBar, formatMeter, sliceForm, unrollForm } from '../../../src/core/chart/index.ts';
import { paletteMask } from '../../../src/core/theory/palette.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { barsOf, chartOf, formOf, textOf } from './reading.ts';

describe('unrolling', () => {
  it('fills every bar with its beats, in order, and numbers bars from 1', () => {
    fc.assert(
      fc.property(arbitraryChart(), (chart) => {
        for (const { name } of [{ name: 'plain' }, ...chart.plans]) {
          const form = formOf(chart, name);
          expect(form.plan).toBe(name);
          form.bars.forEach(({ bar, chords, meter }, index) => {
            expect(bar).toBe(index + 1);
            let beat = 1;
            for (const chord of chords) {
              expect(chord.beat).toBe(beat);
              beat += chord.beats;
            }
            expect(beat).toBe(beatsPerBar(meter) + 1);
          });
        }
      }),
      { numRuns: 100 },
    );
  });

  it('plays every written bar, and a plan without bars of its own as plain', () => {
    fc.assert(
      fc.property(arbitraryChart(), (chart) => {
        const written = barsOf(chart);
        const quiet = {
          ...chart,
          plans: [{ name: 'quiet', bars: written.map(() => ({ kind: 'same' as const })) }],
        };
        const plain = formOf(quiet);
        expect({ ...formOf(quiet, 'quiet'), plan: 'plain' }).toEqual(plain);
        // On the way to the coda, and after the end at the fine, bars may be left out.
        const jumps = written.some(({ endMark }) => endMark !== null);
        if (!jumps) expect(plain.bars.length).toBeGreaterThanOrEqual(written.length);
      }),
      { numRuns: 50 },
    );
  });

  it('gives every chord a palette that is not among its alternatives, and N.C. none', () => {
    fc.assert(
      fc.property(arbitraryChart(), (chart) => {
        for (const { symbol, chosen, alternatives } of formOf(chart).bars.flatMap(
          ({ chords }) => chords,
        )) {
          if (symbol === null) {
            expect(chosen).toBeNull();
            expect(alternatives).toEqual([]);
          } else {
            expect(chosen?.palette.pcs.length).toBeGreaterThan(0);
            expect(chosen?.reason).not.toBe('');
            const own = chosen && [
              chosen.palette.pcs[0],
              chosen.palette.falling === null,
              paletteMask(chosen.palette),
            ];
            for (const { palette, given } of alternatives) {
              expect([palette.pcs[0], palette.falling === null, paletteMask(palette)]).not.toEqual(
                own,
              );
              expect(given).toBe(false);
            }
          }
        }
      }),
      { numRuns: 50 },
    );
  });

  it('leaves the written chart as it is', () => {
    const chart = chartOf(textOf('|: C |1 % :|2 F |\nplan: p\n| D | % | % |'));
    const before = structuredClone(chart);
    formOf(chart, 'p');
    expect(chart).toEqual(before);
  });

  it('keeps the meter and the section of each bar', () => {
    const form = formOf(chartOf(textOf('[A]\n|: C :|\n[B]\n(6/8)\n| F |')));
    expect(form.bars.map(({ section, meter }) => `${section} ${formatMeter(meter)}`)).toEqual([
      'A 4/4',
      'A 4/4',
      'B 6/8',
    ]);
  });
});

describe('choosing in context', () => {
  /** The reasons for the one chord that stands in the last bar. */
  const paletteOfLast = (bars: string) =>
    formOf(chartOf(textOf(bars)))
      .bars.at(-1)
      ?.chords.at(-1)?.chosen?.palette;

  it('sees around the end of the form: a chord there resolves into the first one', () => {
    // The same last chord, with the form starting on its resolution or not.
    const around = formOf(chartOf(textOf('| Cm | Fm | G7 |')));
    const straight = formOf(chartOf(textOf('| Fm | G7 | Cm |')));
    expect(around.bars[2]?.chords[0]).toEqual(straight.bars[1]?.chords[0]);
  });

  it('passes over N.C. and over repetitions of the same chord', () => {
    expect(paletteOfLast('| Cm | Fm | N.C. | G7 | G7 | N.C. | G7 |')).toEqual(
      paletteOfLast('| Cm | Fm | G7 |'),
    );
  });

  it('tells a dominant that leads to a minor chord from one that leads to a major one', () => {
    // Common practice, no source: over V of a minor chord the thirteenth is flat (E flat over G).
    const degrees = (bars: string) =>
      formOf(chartOf(textOf(bars))).bars[0]?.chords[0]?.chosen?.palette.pcs;
    expect(degrees('| G7 | Cm | Fm |')).toContain(3);
    expect(degrees('| G7 | C | F |')).toContain(4);
  });

  it('does not need neighbours', () => {
    expect(paletteOfLast('| G7 |')).toMatchObject({ root: 'G' });
  });
});

describe('a range of bars', () => {
  const form = formOf(chartOf(textOf('| C | D | E | F |')));
  const numbers = (from: number, to: number) =>
    sliceForm(form, from, to).bars.map(({ bar }) => bar);

  it('keeps the bar numbers of the form', () => {
    expect(numbers(2, 3)).toEqual([2, 3]);
    expect(numbers(4, 4)).toEqual([4]);
    expect(numbers(1, 4)).toEqual([1, 2, 3, 4]);
  });

  it('adds nothing outside the form and is empty where the range is', () => {
    expect(numbers(0, 9)).toEqual([1, 2, 3, 4]);
    expect(numbers(3, 2)).toEqual([]);
    expect(numbers(5, 6)).toEqual([]);
  });
});

it('answers an unknown plan with a problem', () => {
  expect(unrollForm(chartOf(textOf('| C |')), 'constructor').ok).toBe(false);
});
