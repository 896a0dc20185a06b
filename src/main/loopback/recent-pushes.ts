/**
 * What was told of late: a page that asked before it could listen, or whose connection broke off for a moment, is told it again.
 * Told twice, a change costs a question.
 */

import type { Push } from '../../../shared/bridge/index.ts';

/** A page listens well within it after it has asked, and a browser connects again after some 3 s. Own choice. */
const RECENT_MS = 10_000;

export interface RecentPushes {
  add(push: Push): void;
  /** What has changed in the last ten seconds, each once. */
  changes(): readonly Push[];
}

/** `nowMs` is any clock that does not go back. */
export function createRecentPushes(nowMs: () => number = () => performance.now()): RecentPushes {
  const lastMs = new Map<Extract<Push, { kind: 'changed' }>['what'], number>();
  return {
    add(push) {
      if (push.kind === 'changed') lastMs.set(push.what, nowMs());
    },
    changes: () =>
      [...lastMs]
        .filter(([, atMs]) => nowMs() - atMs < RECENT_MS)
        .map(([what]): Push => ({ kind: 'changed', what })),
  };
}
