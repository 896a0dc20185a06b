/** What every first question after a start would have to wait for, done before it is asked; in small steps, so that nothing waits. */

import { dueOf, nameOfPractice } from '../../core/progress/index.ts';
import type { History } from './history.ts';
import type { ProgressHandlers } from './progress-handlers.ts';
import { rest } from './rest.ts';

/**
 * Reads the history, tells of each practice when it is due, then asks what the screens of progress ask first. It fails where the
 * library does, and nobody has asked.
 */
export async function readAhead(
  history: History,
  ask: ProgressHandlers,
  nowMs: number,
  utcOffsetMinutes: number,
): Promise<void> {
  try {
    await history.warmUp();
    for (const takes of history.practices().values()) {
      await rest();
      dueOf({ takes }, nowMs, utcOffsetMinutes);
    }
    await rest();
    const [newest] = ask['progress.practices']({ utcOffsetMinutes });
    if (newest === undefined) return;
    const practice = nameOfPractice(newest);
    await rest();
    ask['progress.practice']({ practice, utcOffsetMinutes });
    await rest();
    ask['progress.ladder'](practice);
    await rest();
    const wish = { minutes: 30, dailyLimitMinutes: null, locked: [], skippedIds: [] };
    ask['progress.session']({ ...wish, utcOffsetMinutes });
    await rest();
    const everything = { plan: null, key: null, level: null, tempoBpm: null, playedAtMs: null };
    const { chartId } = practice;
    ask['progress.heat']({ picture: 'rulesByBars', ...everything, chartId, utcOffsetMinutes });
  } catch {
    // The library was closed meanwhile, or cannot be read: who asks is told.
  }
}
