/** Records a take until the system takes no more of it, and prints how many events were stored and what it was told. */

import { writeSync } from 'node:fs';
import { createTakeStore, openLibrary, refusalOf } from '../../src/main/store/index.ts';
import { setUpFor } from '../helpers/set-up.ts';

const takes = createTakeStore(openLibrary(process.argv[2] ?? ''));
const takeId = takes.begin(setUpFor(), 1);
let stored = 0;
try {
  for (;;) {
    const events = Array.from({ length: 500 }, (_, index) => ({
      kind: 'noteOn' as const,
      atMs: stored + index,
      midi: 60,
      velocity: 80,
    }));
    stored = takes.append(takeId, stored, events).stored;
  }
} catch (error) {
  writeSync(1, JSON.stringify({ stored, refusal: refusalOf(error) }));
}
