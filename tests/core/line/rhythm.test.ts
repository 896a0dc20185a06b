/** The rhythm of a free line: whole beats, and a sound wherever a chord begins. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { beatsPerBar, unrollForm } from '../../../src/core/chart/index.ts';
import { freeRhythm } from '../../../src/core/line/rhythm.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';

describe('the rhythm of a free line', () => {
  test('fills every beat of every chorus, part after part', () => {
    fc.assert(
      fc.property(
        arbitraryChart(),
        fc.integer({ min: 1, max: 3 }),
        fc.integer(),
        (chart, choruses, seed) => {
          const form = unrollForm(chart, 'plain');
          if (!form.ok) throw new Error('plain is missing');
          const rhythm = freeRhythm(form.value, choruses, seed);
          const beats = form.value.bars.reduce((sum, { meter }) => sum + beatsPerBar(meter), 0);
          expect(rhythm).toHaveLength(beats * choruses);
          let at = 0;
          rhythm.forEach((parts, beat) => {
            for (const part of parts) {
              expect(12 * beat + part.at).toBe(at);
              at += part.length;
            }
          });
          expect(at).toBe(12 * rhythm.length);
          const starts = form.value.bars.flatMap(({ meter, chords }) =>
            Array.from({ length: beatsPerBar(meter) }, (_, beat) =>
              chords.some((chord) => chord.beat === beat + 1),
            ),
          );
          starts.forEach((begins, beat) => {
            if (begins) expect(rhythm[beat]?.[0]?.isRest).toBe(false);
          });
        },
      ),
    );
  });

  test('has rests, off-beats, long notes and notes held over the beat in it, and the seed decides', () => {
    const form = unrollForm(
      fc.sample(arbitraryChart(), { numRuns: 1, seed: 3 })[0] ?? fail(),
      'plain',
    );
    if (!form.ok) throw new Error('plain is missing');
    const rhythm = freeRhythm(form.value, 40, 1);
    expect(rhythm.some((parts) => parts[0]?.isRest === true && parts.length > 1)).toBe(true);
    expect(rhythm.some((parts) => parts.length === 1 && parts[0]?.isRest === false)).toBe(true);
    const last = rhythm.flatMap((parts) => parts.slice(-1));
    expect(last.some(({ at, length }) => at + length > 12)).toBe(true);
    expect(freeRhythm(form.value, 40, 1)).toEqual(rhythm);
    expect(freeRhythm(form.value, 40, 2)).not.toEqual(rhythm);
  });
});

function fail(): never {
  throw new Error('no chart');
}
