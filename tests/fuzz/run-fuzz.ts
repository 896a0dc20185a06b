/** Runs a target in a worker of bounded memory, and ends the worker when an input keeps it from moving on. */

import { Worker } from 'node:worker_threads';

export interface FuzzJob {
  readonly target: string;
  readonly seed: number;
  /** Number of the first input: one that failed is made again by asking for it alone. */
  readonly from: number;
  readonly count: number;
  /** How many inputs were begun. */
  readonly moved: Int32Array;
}

export interface FuzzResult {
  readonly inputs: number;
  readonly accepted: number;
  readonly bytes: number;
  /** What all of them took in working time, making them included. */
  readonly workedMs: number;
  readonly slowest: { readonly ms: number; readonly index: number; readonly size: number };
  /** What went wrong, with the number of its input; empty is what is wanted. */
  readonly failures: readonly string[];
}

/** Nothing an input of 64 kB needs comes near it. */
const MOST_HEAP_MB = 600;
/** An input this slow is taken to hang: far above the aim, so that a machine busy with other things is not mistaken for one. */
const HANGS_AFTER_MS = 40_000;

export function runFuzz(job: Omit<FuzzJob, 'moved'>): Promise<FuzzResult> {
  const moved = new Int32Array(new SharedArrayBuffer(4));
  const worker = new Worker(new URL('./worker.ts', import.meta.url), {
    workerData: { ...job, moved } satisfies FuzzJob,
    resourceLimits: { maxOldGenerationSizeMb: MOST_HEAP_MB },
  });
  return new Promise((resolve) => {
    let seen = -1;
    const end = (failure: string): void => {
      clearInterval(watch);
      const index = job.from + Atomics.load(moved, 0);
      void worker.terminate();
      const slowest = { ms: Number.NaN, index, size: 0 };
      const failures = [`${job.target} ${index}: ${failure}`];
      resolve({
        inputs: index - job.from + 1,
        accepted: 0,
        bytes: 0,
        workedMs: 0,
        slowest,
        failures,
      });
    };
    const watch = setInterval(() => {
      const now = Atomics.load(moved, 0);
      if (now === seen) end('it hangs');
      seen = now;
    }, HANGS_AFTER_MS);
    worker.on('error', (error: Error) => end(error.stack ?? error.message));
    worker.on('message', (result: FuzzResult) => {
      clearInterval(watch);
      resolve(result);
    });
  });
}
