/** A million spoilt inputs to every reader of what others wrote; the tests run a slice of the same. */

import { availableParallelism } from 'node:os';
import { type FuzzResult, runFuzz } from '../fuzz/run-fuzz.ts';
import { TARGETS } from '../fuzz/targets/index.ts';
import { type Bench, distribution, type Measure, ratio } from './bench.ts';

const INPUTS = 1_050_000;
const SEED = 2;
/** Of the inputs of a target, in one worker: it then ends, and another begins with an empty heap. */
const PIECE_SHARE = 0.25;
/** Workers at a time, each of which may fill its heap. */
const MOST_WORKERS = 4;

interface Piece {
  readonly target: string;
  readonly from: number;
  readonly count: number;
}

function piecesOf({ name, share }: (typeof TARGETS)[number]): readonly Piece[] {
  const count = Math.round((INPUTS * share) / 1000);
  const size = Math.ceil(count * PIECE_SHARE);
  return Array.from({ length: Math.ceil(count / size) }, (_, index) => ({
    target: name,
    from: index * size,
    count: Math.min(size, count - index * size),
  }));
}

/** What became of every piece, as many at a time as there are processors for. */
async function runAll(pieces: readonly Piece[]): Promise<ReadonlyMap<Piece, FuzzResult>> {
  const results = new Map<Piece, FuzzResult>();
  const waiting = [...pieces];
  async function work(): Promise<void> {
    for (let piece = waiting.shift(); piece !== undefined; piece = waiting.shift()) {
      const result = await runFuzz({ ...piece, seed: SEED });
      for (const failure of result.failures) process.stderr.write(`${failure}\n`);
      results.set(piece, result);
    }
  }
  const workers = Math.min(availableParallelism(), MOST_WORKERS);
  await Promise.all(Array.from({ length: workers }, work));
  return results;
}

function measureOf(name: string, results: readonly FuzzResult[]): Measure {
  const sum = (amount: (result: FuzzResult) => number): number =>
    results.reduce((total, result) => total + amount(result), 0);
  const inputs = ['inputs', sum((result) => result.inputs)] as const;
  return {
    name,
    how: `In ${results.length} pieces, each in a worker of its own; the slowest input of each is kept.`,
    figures: [
      ratio('failures', 'inputs', ['failures', sum(({ failures }) => failures.length)], inputs, 0),
      ratio('accepted', 'inputs', ['accepted', sum(({ accepted }) => accepted)], inputs),
      ratio('share of the run', 'inputs', inputs, ['all', INPUTS]),
      ratio('working time', 'ms', ['all inputs', sum(({ workedMs }) => workedMs)], inputs),
      distribution(
        'slowest input of a piece',
        'ms',
        results.map(({ slowest }) => slowest.ms),
      ),
    ],
  };
}

export const fuzzBench: Bench = {
  title: 'Fuzz',
  about:
    'Spoilt and hostile inputs by seeded chance, more of them for readers that are quick. No failure may be counted; aim: no input works longer than 200 ms for 64 kB.',
  isLong: true,
  run: async (effort) => {
    if (effort === 'short') return [];
    const results = await runAll(TARGETS.flatMap(piecesOf));
    const resultsOf = (name: string): readonly FuzzResult[] =>
      [...results].flatMap(([{ target }, result]) => (target === name ? [result] : []));
    return [
      ...TARGETS.map(({ name }) => measureOf(name, resultsOf(name))),
      measureOf('all of them', [...results.values()]),
    ];
  },
};
