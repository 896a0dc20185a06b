/** Rests between pieces of work that nobody waits for. */

import { setImmediate } from 'node:timers/promises';

/** A call goes through fewer turns of the event loop than this until it is answered. Counted by trial, with some to spare. */
const TURNS = 8;

/** Lets a call that came during the piece before be answered whole: else it would wait for another piece in each of its turns. */
export async function rest(): Promise<void> {
  for (let turn = 0; turn < TURNS; turn++) await setImmediate();
}
