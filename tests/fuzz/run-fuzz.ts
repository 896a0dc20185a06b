/** Runs targets in a worker of bounded memory, and ends the worker when an input keeps it from moving on. */

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

/** A worker for one job after another: to begin one takes as long as a thousand inputs. */
export interface Fuzzer {
  /** One at a time. */
  run(job: Omit<FuzzJob, 'moved'>): Promise<FuzzResult>;
  end(): void;
}

export function openFuzzer(): Fuzzer {
  let worker: Worker | null = null;
  const end = (): void => {
    void worker?.terminate();
    worker = null;
  };
  return {
    run(job) {
      worker ??= new Worker(new URL('./worker.ts', import.meta.url), {
        resourceLimits: { maxOldGenerationSizeMb: MOST_HEAP_MB },
      });
      return runIn(worker, job, end);
    },
    end,
  };
}

/** Runs one job in a worker of its own. */
export async function runFuzz(job: Omit<FuzzJob, 'moved'>): Promise<FuzzResult> {
  const fuzzer = openFuzzer();
  try {
    return await fuzzer.run(job);
  } finally {
    fuzzer.end();
  }
}

function runIn(
  worker: Worker,
  job: Omit<FuzzJob, 'moved'>,
  endWorker: () => void,
): Promise<FuzzResult> {
  const moved = new Int32Array(new SharedArrayBuffer(4));
  return new Promise((resolve) => {
    let seen = -1;
    const end = (result: FuzzResult): void => {
      clearInterval(watch);
      worker.off('error', fail).off('message', end);
      resolve(result);
    };
    const giveUp = (failure: string): void => {
      endWorker();
      const index = job.from + Atomics.load(moved, 0);
      end({
        inputs: index - job.from + 1,
        ...{ accepted: 0, bytes: 0, workedMs: 0, slowest: { ms: Number.NaN, index, size: 0 } },
        failures: [`${job.target} ${index}: ${failure}`],
      });
    };
    const watch = setInterval(() => {
      const now = Atomics.load(moved, 0);
      if (now === seen) giveUp('it hangs');
      seen = now;
    }, HANGS_AFTER_MS);
    const fail = (error: Error): void => giveUp(error.stack ?? error.message);
    worker.on('error', fail).on('message', end);
    worker.postMessage({ ...job, moved } satisfies FuzzJob);
  });
}
