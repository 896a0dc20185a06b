/** What one note costs while it is played, and how grading grows with the length of a take. */

import { createLiveGrader, gradeTake } from '../../src/core/grading/index.ts';
import { type Bench, type Measure, medianMs, percentile, timeRuns } from './bench.ts';
import { BENCH_FORM, BENCH_TEMPO, longTake } from './long-take.ts';

/** A note-on is three bytes of ten bits at 31 250 baud. Source: MIDI 1.0 Detailed Specification, p. 1 and 9. */
const WIRE_US = 960;

const SETTINGS = { level: 'thirds', tempo: BENCH_TEMPO } as const;

function liveCost(): Measure {
  const take = longTake(50_000);
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
  const median = percentile(samplesUs, 0.5);
  const p99 = percentile(samplesUs, 0.99);
  return {
    name: 'live grader, one note-on with its provisional verdict and the clock',
    unit: 'µs',
    values: { median, p99, 'wire time of a note-on': WIRE_US, 'p99 / wire time': p99 / WIRE_US },
  };
}

function growth(): Measure {
  const values: Record<string, number> = {};
  for (const notes of [10_000, 100_000, 1_000_000]) {
    const take = longTake(notes);
    const runs = notes > 500_000 ? 2 : 7;
    const ms = medianMs(timeRuns(runs, () => gradeTake(BENCH_FORM, take, SETTINGS)));
    values[`${notes} notes`] = (ms * 1e6) / notes;
  }
  return { name: 'grading with its report, per note', unit: 'ns/note', values };
}

export const engineBench: Bench = {
  title: 'Engine',
  about:
    'A live note should cost far less than the 960 µs it spends on a MIDI cable; the aim is a p99 under 20 µs. Cost per note should not grow with the length of the take.',
  run: async () => [liveCost(), growth()],
};
