/** What one note costs while it is played, and how grading grows with the length of a take. */

import { createLiveGrader, gradeTake } from '../../src/core/grading/index.ts';
import {
  type Bench,
  distribution,
  type Effort,
  type Measure,
  median,
  percentile,
  ratio,
  timeRuns,
} from './bench.ts';
import { BENCH_FORM, BENCH_TEMPO, longTake } from './long-take.ts';

/** A note-on is three bytes of ten bits at 31 250 baud. Source: MIDI 1.0 Detailed Specification, p. 1 and 9. */
const WIRE_US = 960;

const SETTINGS = { level: 'thirds', tempo: BENCH_TEMPO } as const;

function liveCost(notes: number): Measure {
  const take = longTake(notes);
  const samplesUs: number[] = [];
  for (let pass = 0; pass < 2; pass++) {
    samplesUs.length = 0;
    const live = createLiveGrader(BENCH_FORM, SETTINGS, {
      heard() {},
      settled() {},
      changed() {},
    });
    for (const event of take.events) {
      const startMs = performance.now();
      live.take(event);
      live.advance(event.atMs);
      if (event.kind === 'noteOn') samplesUs.push((performance.now() - startMs) * 1000);
    }
  }
  const p99 = percentile(samplesUs, 0.99);
  return {
    name: 'a live verdict',
    how: `${notes} notes through the live grader, once to warm up; timed from a note-on going in to its provisional verdict and the clock's going on.`,
    figures: [
      distribution('cost of a note-on', 'µs', samplesUs),
      ratio(
        'p99 against the wire',
        'µs',
        ['p99', p99],
        ['a note-on on a MIDI cable', WIRE_US],
        20 / WIRE_US,
      ),
    ],
  };
}

function growth(effort: Effort): Measure {
  const most = effort === 'full' ? 1_000_000 : 100_000;
  const perNoteNs = [10_000, most].map((notes) => {
    const take = longTake(notes);
    const runs = notes > 500_000 ? 3 : 7;
    return (median(timeRuns(runs, () => gradeTake(BENCH_FORM, take, SETTINGS))) * 1e6) / notes;
  });
  const [few = Number.NaN, many = Number.NaN] = perNoteNs;
  return {
    name: 'grading a whole take',
    how: 'Medians of several runs after two to warm up, report included, divided by the notes.',
    figures: [
      ratio(
        'cost per note, long take against short',
        'ns',
        [`in ${most} notes`, many],
        ['in 10000 notes', few],
      ),
    ],
  };
}

export const engineBench: Bench = {
  title: 'Engine',
  about:
    'A live note should cost far less than the 960 µs it spends on a MIDI cable; the aim is a p99 under 20 µs. Cost per note should not grow with the length of the take.',
  run: async (effort) => [liveCost(effort === 'full' ? 50_000 : 20_000), growth(effort)],
};
