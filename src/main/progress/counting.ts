/** Counts the takes that are still to be counted, after an update or anew, in the background and little by little. */

import type { DatabaseSync } from 'node:sqlite';
import { setImmediate, setTimeout } from 'node:timers/promises';
import type { Refusal } from '../../../shared/bridge/index.ts';
import { createTakeFacts, refusalOf } from '../store/index.ts';

export interface CountingState {
  readonly done: number;
  readonly of: number;
  /** Why it does not go on; null while it does. */
  readonly problem: Refusal | null;
}

export interface Counting {
  /** How far it has come; null once every take is counted. */
  state(): CountingState | null;
  /** Takes that do not count because what they came to cannot be read. */
  unread(): readonly string[];
  /** Counts to the end; done when it is there, or when the library is closed. */
  run(): Promise<void>;
}

/** So many are counted within some hundredths of a second: whoever asks meanwhile waits no longer. Own choice. */
const TAKES_AT_ONCE = 50;
/** A bar that moves four times a second is seen to move. Own choice. */
const TELL_EVERY_MS = 250;
/** What stands in the way, such as a full disk, is looked at again after this. Own choice. */
const RETRY_MS = 5000;

/** `onProgress` is told from time to time, and of the end and of a problem at once; `finish` is done once all are counted. */
export function createCounting(
  database: DatabaseSync,
  onProgress: () => void,
  finish: () => void,
  retryMs = RETRY_MS,
): Counting {
  const facts = createTakeFacts(database);
  let problem: Refusal | null = null;

  /** Counts until the bar is to move; answers how many are left. */
  async function goOn(): Promise<number> {
    const startMs = performance.now();
    for (;;) {
      await setImmediate();
      if (!database.isOpen) return 0;
      const left = facts.makeSome(TAKES_AT_ONCE);
      if (left === 0 || performance.now() - startMs > TELL_EVERY_MS) return left;
    }
  }

  return {
    state() {
      const left = facts.toMake();
      return left === 0 ? null : { done: facts.made(), of: facts.made() + left, problem };
    },
    unread: () => facts.unread(),
    async run() {
      while (database.isOpen && facts.toMake() > 0) {
        try {
          const left = await goOn();
          problem = null;
          if (left === 0 && database.isOpen) finish();
        } catch (error) {
          problem = refusalOf(error);
          onProgress();
          await setTimeout(retryMs, undefined, { ref: false });
        }
        if (database.isOpen) onProgress();
      }
    },
  };
}
