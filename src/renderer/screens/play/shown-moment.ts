/** The moment that is shown, and who puts it on the page by hand, within the frame of the key that falls with it. */

import type { Moment } from './moment.ts';

export interface ShownMoment {
  show(moment: Moment): void;
  /** Calls with the moment that is shown, and with each that follows, until what it gives is called. */
  watch(put: (moment: Moment) => void): () => void;
}

export function createShownMoment(first: Moment): ShownMoment {
  let shown = first;
  const watchers = new Set<(moment: Moment) => void>();
  return {
    show(moment) {
      shown = moment;
      for (const put of watchers) put(moment);
    },
    watch(put) {
      watchers.add(put);
      put(shown);
      return () => watchers.delete(put);
    },
  };
}
