/** The clock of a take that is the page's own: nothing is late, and nothing stands still. */

import type { TakeClock } from '../../src/renderer/session/live-take.ts';

export const PAGE_CLOCK: TakeClock = {
  scoreMs: (pageMs) => pageMs,
  breaks: () => [],
  isDoubted: () => false,
  openBreak: () => null,
  onBreak: () => {},
  over: new AbortController().signal,
};
