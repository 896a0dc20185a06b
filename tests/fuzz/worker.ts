/** Runs inputs of a target and counts, one job after another; its owner watches from outside whether it still moves. */

import { parentPort } from 'node:worker_threads';
import { workingMs } from '../helpers/working-time.ts';
import { choicesFor } from './chance.ts';
import { LARGEST_INPUT } from './mutate.ts';
import type { FuzzJob, FuzzResult } from './run-fuzz.ts';
import type { FuzzInput } from './target.ts';
import { TARGETS } from './targets/index.ts';

/** The aim in working time for an input of `LARGEST_INPUT`; smaller ones have it too. */
export const SLOWEST_MS = 200;
const MOST_FAILURES = 5;

parentPort?.on('message', (job: FuzzJob) => {
  void runJob(job).then((result) => parentPort?.postMessage(result));
});

/** Where there is no such target it rejects, which ends the worker. */
async function runJob({ target: name, seed, from, count, moved }: FuzzJob): Promise<FuzzResult> {
  const target = TARGETS.find((one) => one.name === name);
  if (target === undefined) throw new Error(`there is no target ${name}`);
  const begunMs = workingMs();
  let inputs = 0;
  let accepted = 0;
  let bytes = 0;
  let slowest = { ms: 0, index: from, size: 0 };
  const failures: string[] = [];
  for (let index = from; index < from + count && failures.length < MOST_FAILURES; index++) {
    Atomics.store(moved, 0, index - from);
    const input = target.make(choicesFor(name, seed, index));
    inputs++;
    bytes += input.size;
    try {
      const startMs = workingMs();
      if ((await input.run()) === 'accepted') accepted++;
      let ms = workingMs() - startMs;
      // The first of its kind is slow until its code is compiled; a slow input is slow every time.
      for (let again = 0; again < 2 && ms > Math.max(slowest.ms, 20); again++) {
        ms = Math.min(ms, await timed(input));
      }
      if (ms > slowest.ms) slowest = { ms, index, size: input.size };
      if (ms > SLOWEST_MS * Math.max(1, input.size / LARGEST_INPUT)) {
        failures.push(`${name} ${index}: took ${ms.toFixed(0)} ms for ${input.size} bytes`);
      }
    } catch (error) {
      const why = error instanceof Error ? (error.stack ?? error.message) : String(error);
      failures.push(`${name} ${index}: ${why.slice(0, 1500)}`);
    }
  }
  return { inputs, accepted, bytes, workedMs: workingMs() - begunMs, slowest, failures };
}

async function timed(input: FuzzInput): Promise<number> {
  const startMs = workingMs();
  await input.run();
  return workingMs() - startMs;
}
