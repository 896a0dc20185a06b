/**
 * What was played, on its way to disk while it is being played. Events are sent in batches, each at most 100 ms after
 * the first of it came, sooner where the page has a moment to spare, and kept until the host says they are stored: a lost
 * reply or a host that restarts costs nothing, because a batch that is sent again is recognised by the number of events
 * before it.
 */

import type { Bridge, Refusal } from '../../../shared/bridge/index.ts';
import { createLongList } from '../../core/long-list.ts';
import type { TakeEvent, TakeEvents } from '../../core/take/model.ts';

/**
 * Whatever was there a look before is sent, so that nothing waits longer than two: less than half of what is promised
 * (250 ms), for a call may take long on a machine that has other work.
 */
const LOOK_EVERY_MS = 50;
/** One call carries no more than this; the bridge refuses larger ones. */
export const LARGEST_BATCH = 5_000;

export type JournalState =
  | { readonly kind: 'stored' }
  /** The last call failed; what was played is kept here and sent again. */
  | { readonly kind: 'waiting'; readonly refusal: Refusal };

export interface Journal {
  add(event: TakeEvent): void;
  /** Tells that what stands beside the events is another now: it is sent also without an event. */
  besideChanged(): void;
  /** Sends what there is: a call takes the page a millisecond or more, which a key may need at any other moment. */
  spare(): void;
  /** Sends everything and waits until it is stored; false when it is not. */
  flush(): Promise<boolean>;
  stop(): void;
}

/** Sends the events of a take that was begun, and what stands beside them so far. `setTimer` calls back every so many ms until the signal is aborted. */
export function createJournal(
  bridge: Pick<Bridge, 'ask'>,
  takeId: string,
  beside: () => Pick<TakeEvents, 'sources' | 'breaks'>,
  onState: (state: JournalState) => void,
  setTimer: (callback: () => void, everyMs: number, signal: AbortSignal) => void = everyFewMs,
): Journal {
  const events = createLongList<TakeEvent>();
  const stopping = new AbortController();
  let stored = 0;
  let isBesideOwed = false;
  let sending: Promise<boolean> | null = null;

  async function send(): Promise<boolean> {
    const until = events.length;
    while (stored < until || isBesideOwed) {
      isBesideOwed = false;
      const batch = events.slice(stored, Math.min(stored + LARGEST_BATCH, until));
      const played = { events: batch, ...beside() };
      const reply = await bridge.ask('takes.append', { takeId, from: stored, ...played });
      if (!reply.ok) {
        isBesideOwed = true;
        onState({ kind: 'waiting', refusal: reply.refusal });
        return false;
      }
      stored = reply.value.stored;
    }
    onState({ kind: 'stored' });
    return true;
  }

  /** One call at a time; what came meanwhile goes with the next. */
  function flush(): Promise<boolean> {
    if (sending !== null) return sending;
    sending = send().finally(() => {
      sending = null;
    });
    return sending;
  }

  const isOwed = (): boolean => stored < events.length || isBesideOwed;

  /** How many events there were at the last look. */
  let seen = 0;
  setTimer(
    () => {
      if (stored < seen || isBesideOwed) void flush();
      seen = events.length;
    },
    LOOK_EVERY_MS,
    stopping.signal,
  );

  return {
    add: (event) => events.push(event),
    besideChanged() {
      isBesideOwed = true;
    },
    spare() {
      if (isOwed()) void flush();
    },
    async flush() {
      // A batch under way may not hold the last events: send until nothing is left.
      while (isOwed()) if (!(await flush())) return false;
      return true;
    },
    stop: () => stopping.abort(),
  };
}

function everyFewMs(callback: () => void, everyMs: number, signal: AbortSignal): void {
  const timer = setInterval(callback, everyMs);
  signal.addEventListener('abort', () => clearInterval(timer));
}
