/** A million spoilt inputs to every reader of what others wrote; the tests run a slice of the same. */

import { runFuzz } from '../fuzz/run-fuzz.ts';
import { TARGETS } from '../fuzz/targets/index.ts';
import type { Bench, Measure } from './bench.ts';

const INPUTS = 1_050_000;
const SEED = 2;
/** Inputs in one worker: it then begins again with an empty heap. */
const PIECE = 50_000;

async function measure({ name, share }: (typeof TARGETS)[number]): Promise<Measure> {
  const count = Math.round((INPUTS * share) / 1000);
  const sums = { inputs: 0, accepted: 0, bytes: 0, failures: 0 };
  let slowest = { ms: 0, index: 0, size: 0 };
  const startMs = performance.now();
  for (let from = 0; from < count; from += PIECE) {
    const job = { target: name, seed: SEED, from, count: Math.min(PIECE, count - from) };
    const result = await runFuzz(job);
    for (const failure of result.failures) process.stderr.write(`${failure}\n`);
    sums.inputs += result.inputs;
    sums.accepted += result.accepted;
    sums.bytes += result.bytes;
    sums.failures += result.failures.length;
    if (result.slowest.ms > slowest.ms) slowest = result.slowest;
  }
  const { inputs, accepted, bytes, failures } = sums;
  return {
    name,
    unit: 'inputs; shares and ms as named',
    values: {
      inputs,
      failures,
      'share accepted': accepted / inputs,
      'share refused': 1 - accepted / inputs,
      'mean size, bytes': bytes / inputs,
      'slowest, ms of work': slowest.ms,
      'size of the slowest, bytes': slowest.size,
      'number of the slowest': slowest.index,
      'seconds in all': (performance.now() - startMs) / 1000,
    },
  };
}

export const fuzzBench: Bench = {
  title: 'Fuzz',
  about:
    'Spoilt and hostile inputs by seeded chance. No failure may be counted; aim: no input works longer than 200 ms for 64 kB.',
  isLong: true,
  run: async () => {
    const measures: Measure[] = [];
    for (const target of TARGETS) measures.push(await measure(target));
    return measures;
  },
};
