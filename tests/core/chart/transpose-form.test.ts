/** A form moved is the form of the moved chart. Own law, over random charts: `transposeChart` is the yardstick. */

import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  type Chart,
  type Form,
  transposeChart,
  transposeForm,
  unrollForm,
} from '../../../src/core/chart/index.ts';
import { formatKey, tonePc } from '../../../src/core/theory/index.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { runs } from '../../helpers/runs.ts';

function formOf(chart: Chart): Form {
  const form = unrollForm(chart, 'plain');
  if (!form.ok) throw new Error('plain is always there');
  return form.value;
}

/** What is played and graded, and how key and chords are spelled; palettes by their pitch classes. */
function played({ key, bars, pickup }: Form) {
  const chords = [...(pickup?.chords ?? []), ...bars.flatMap((bar) => bar.chords)];
  return {
    key: formatKey(key),
    chords: chords.map(({ beat, beats, symbol, chosen }) => ({
      ...{ beat, beats },
      symbol: symbol?.text,
      palette: chosen && {
        name: chosen.palette.name,
        pcs: chosen.palette.pcs,
        falling: chosen.palette.falling?.pcs,
      },
    })),
  };
}

test('moving the form or the chart comes to the same', () => {
  fc.assert(
    fc.property(
      arbitraryChart({ maxFifths: 6, givenPalettes: false }),
      fc.integer({ min: -5, max: 6 }),
      (chart, fifths) => {
        const pc = tonePc(fifths);
        const semitones = pc > 6 ? pc - 12 : pc;
        const moved = transposeForm(formOf(chart), semitones);
        expect(played(moved)).toEqual(played(formOf(transposeChart(chart, fifths))));
      },
    ),
    { numRuns: runs(200, 40), seed: 20_261_129 },
  );
});

test('by no semitone the form stays itself', () => {
  fc.assert(
    fc.property(arbitraryChart(), (chart) => {
      const form = formOf(chart);
      expect(transposeForm(form, 0)).toBe(form);
    }),
    { numRuns: runs(20, 8), seed: 20_261_129 },
  );
});
