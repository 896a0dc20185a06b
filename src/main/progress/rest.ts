/** Rests between pieces of work that nobody waits for. */

import { setImmediate } from 'node:timers/promises';

/** Turns of the event loop left to calls: one goes through several until it is answered. Own choice, not counted. */
const TURNS = 8;

/** Lets a call that came during the piece before be answered whole: else it would wait for another piece in each of its turns. */
export async function rest(): Promise<void> {
  for (let turn = 0; turn < TURNS; turn++) await setImmediate();
}
