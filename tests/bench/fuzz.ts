/** A million spoilt inputs to every reader of what others wrote; the tests run a slice of the same. */

import { runFuzz } from '../fuzz/run-fuzz.ts';
import { TARGETS } from '../fuzz/targets/index.ts';
import { type Bench, distribution, type Measure, ratio } from './bench.ts';

const INPUTS = 1_050_000;
const SEED = 2;
/** Inputs in one worker: it then begins again with an empty heap. */
const PIECE = 50_000;

async function measure({ name, share }: (typeof TARGETS)[number]): Promise<Measure> {
  const count = Math.round((INPUTS * share) / 1000);
  const sums = { inputs: 0, accepted: 0, failures: 0 };
  const slowest: number[] = [];
  for (let from = 0; from < count; from += PIECE) {
    const job = { target: name, seed: SEED, from, count: Math.min(PIECE, count - from) };
    const result = await runFuzz(job);
    for (const failure of result.failures) process.stderr.write(`${failure}\n`);
    sums.inputs += result.inputs;
    sums.accepted += result.accepted;
    sums.failures += result.failures.length;
    slowest.push(result.slowest.ms);
  }
  const all = ['inputs', sums.inputs] as const;
  return {
    name,
    how: `Inputs ${PIECE} at a time, each piece in a worker of its own; the slowest of each piece is kept.`,
    figures: [
      ratio('failures', 'inputs', ['failures', sums.failures], all, 0),
      ratio('accepted', 'inputs', ['accepted', sums.accepted], all),
      distribution('slowest input of a piece', 'ms', slowest),
    ],
  };
}

export const fuzzBench: Bench = {
  title: 'Fuzz',
  about:
    'Spoilt and hostile inputs by seeded chance. No failure may be counted; aim: no input works longer than 200 ms for 64 kB.',
  isLong: true,
  run: async (effort) => {
    if (effort === 'short') return [];
    const measures: Measure[] = [];
    for (const target of TARGETS) measures.push(await measure(target));
    return measures;
  },
};
