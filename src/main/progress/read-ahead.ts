/** What every first question after a start would have to wait for, done before it is asked; in small steps, so that nothing waits. */

import { setImmediate } from 'node:timers/promises';
import { dueOf } from '../../core/progress/index.ts';
import type { History } from './history.ts';

/** Reads the history and tells of each practice when it is due. It fails where the library does, and nobody has asked. */
export async function readAhead(
  history: History,
  nowMs: () => number,
  utcOffsetMinutes: number,
): Promise<void> {
  try {
    await history.warmUp();
    for (const takes of history.practices().values()) {
      await setImmediate();
      dueOf({ takes }, nowMs(), utcOffsetMinutes);
    }
  } catch {
    // The library was closed meanwhile, or cannot be read: who asks is told.
  }
}
