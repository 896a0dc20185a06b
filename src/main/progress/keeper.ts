/** Keeps in the library, in the background, what a start need not reckon again. */

import type { History, Moment } from './history.ts';
import { restsAtTimes } from './rest.ts';

export interface Keeper {
  /** Something was played, or is gone: what is kept is brought up to it once what goes on now is done. */
  changed(): void;
}

/** `first` is done before anything. */
export function createKeeper(history: History, now: () => Moment, first: Promise<void>): Keeper {
  let going = first;
  let isWaiting = false;
  return {
    changed() {
      if (isWaiting) return;
      isWaiting = true;
      going = going.then(async () => {
        isWaiting = false;
        const rest = restsAtTimes();
        await history.warmUp(rest);
        await history.keepPasts(now(), rest);
      });
    },
  };
}
