/** The clock of a take that is the page's own, where nothing is late and nothing stands still; and a keyboard that nothing is known of. */

import type { TakeSource } from '../../src/core/take/model.ts';
import type { TakeClock } from '../../src/renderer/session/live-take.ts';

export const PAGE_CLOCK: TakeClock = {
  scoreMs: (pageMs) => pageMs,
  breaks: () => [],
  isDoubted: () => false,
  openBreak: () => null,
  onBreak: () => {},
  over: new AbortController().signal,
};

export function keyboardNamed(name: string): TakeSource {
  return { name, latencyMs: 0, splitMidi: null };
}
