/** Appends events one by one and prints how many are stored, until somebody kills it. */

import { createTakeStore, openLibrary } from '../../../src/main/store/index.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const takes = createTakeStore(openLibrary(process.argv[2] ?? ''));
const takeId = takes.begin(setUpFor(), 1);

function next(count: number): void {
  const { stored } = takes.append(takeId, count, [
    { kind: 'noteOn', atMs: count, midi: 60, velocity: 80 },
  ]);
  process.stdout.write(`${stored}\n`);
  setImmediate(() => next(stored));
}

next(0);
