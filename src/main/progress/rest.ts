/** Rests between pieces of work that nobody waits for. */

import { setImmediate } from 'node:timers/promises';

/** Called between two pieces; goes on once whoever waited has been answered. */
export type Rest = () => Promise<void>;

/** Work goes on for so long without a rest: less than anybody notices, and enough for a rest to be worth its time. Own choice. */
const WORK_MS = 4;

/** Turns of the event loop left to calls: one goes through several until it is answered. Own choice, not counted. */
const TURNS = 8;

/** Lets calls that came meanwhile be answered whole: else each would wait for another piece in each of its turns. */
export async function restNow(): Promise<void> {
  for (let turn = 0; turn < TURNS; turn++) await setImmediate();
}

/** Rests that are taken only when there was work for a while. */
export function restsAtTimes(): Rest {
  let sinceMs = performance.now();
  return async () => {
    if (performance.now() - sinceMs < WORK_MS) return;
    await restNow();
    sinceMs = performance.now();
  };
}
