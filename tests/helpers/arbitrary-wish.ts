/** Random forms over all plans, and random wishes for lines and drills over them. */

import fc from 'fast-check';
import { type Form, planNames, unrollForm } from '../../src/core/chart/index.ts';
import { LINE_STYLES, type LineWish } from '../../src/core/line/index.ts';
import { SLOTS_PER_BEAT } from '../../src/core/words.ts';
import { type ArbitraryChartOptions, arbitraryChart } from './arbitrary-chart.ts';

const LEVELS = ['steps', 'thirds', 'leaps', 'free'] as const;

/** Registers from a major third to three octaves. */
export const arbitraryWish: fc.Arbitrary<LineWish> = fc.record({
  level: fc.constantFrom(...LEVELS),
  style: fc.constantFrom(...LINE_STYLES),
  choruses: fc.integer({ min: 1, max: 2 }),
  slotsPerBeat: fc.constantFrom(null, ...SLOTS_PER_BEAT),
  swing: fc.constantFrom(1, 1.5, 2),
  register: fc
    .record({ lowest: fc.integer({ min: 36, max: 72 }), size: fc.integer({ min: 4, max: 36 }) })
    .map(({ lowest, size }) => ({ lowestMidi: lowest, highestMidi: lowest + size })),
  seed: fc.integer(),
  density: fc.double({ min: 0, max: 1, noNaN: true }),
  direction: fc.double({ min: -1, max: 1, noNaN: true }),
  startMidi: fc.constant(null),
});

/** At most twelve bars of a random chart under one of its plans. */
export function arbitraryFormOf(options: ArbitraryChartOptions = {}): fc.Arbitrary<Form> {
  return fc.tuple(arbitraryChart(options), fc.nat()).map(([chart, pick]) => {
    const names = planNames(chart);
    const form = unrollForm(chart, names[pick % names.length] ?? 'plain');
    if (!form.ok) throw new Error('a plan is missing');
    return { ...form.value, bars: form.value.bars.slice(0, 12) };
  });
}

export const arbitraryForm: fc.Arbitrary<Form> = arbitraryFormOf();
