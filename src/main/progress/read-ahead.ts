/** What every first question after a start would have to wait for, done before it is asked; in small steps, so that nothing waits. */

import { dueOf, nameOfPractice, onceHeldBpm } from '../../core/progress/index.ts';
import type { GoalBook } from './goals.ts';
import type { History } from './history.ts';
import type { PracticeBook } from './practices.ts';
import type { ProgressHandlers } from './progress-handlers.ts';
import { type Rest, restsAtTimes } from './rest.ts';

export interface ReadAheadParts {
  readonly history: History;
  readonly practiceBook: PracticeBook;
  readonly goalBook: GoalBook;
  readonly ask: ProgressHandlers;
  /** Ms since 1970. */
  readonly nowMs: number;
  /** How far the player's clock is ahead of UTC. */
  readonly utcOffsetMinutes: number;
  /** Between two steps; where none is given, from time to time. */
  readonly rest?: Rest;
}

/**
 * Reads the history, judges each practice, tells when it is due and reads the charts, then asks what the screens of progress ask
 * first: today's session before all else, which takes every practice. At last it keeps what the next start need not reckon again. It
 * fails where the library does, and nobody has asked.
 */
export async function readAhead(parts: ReadAheadParts): Promise<void> {
  const { history, practiceBook, goalBook, ask, nowMs, utcOffsetMinutes } = parts;
  const rest = parts.rest ?? restsAtTimes();
  try {
    await history.warmUp(rest);
    for (const takes of history.practices().values()) {
      await rest();
      const practice = practiceBook.judge(takes, nowMs);
      if (practice === null) continue;
      dueOf(practice, nowMs, utcOffsetMinutes);
      onceHeldBpm(practice);
    }
    await goalBook.readAhead(history.practices(), rest);
    await rest();
    const wish = { minutes: 30, dailyLimitMinutes: null, locked: [], skippedIds: [] };
    ask['progress.session']({ ...wish, utcOffsetMinutes });
    await rest();
    const [newest] = ask['progress.practices']({ most: 1, utcOffsetMinutes }).practices;
    if (newest === undefined) return;
    const practice = nameOfPractice(newest);
    await rest();
    ask['progress.practice']({ practice, utcOffsetMinutes });
    await rest();
    ask['progress.ladder'](practice);
    await rest();
    const everything = { plan: null, key: null, level: null, tempoBpm: null, playedAtMs: null };
    const { chartId } = practice;
    ask['progress.heat']({ picture: 'rulesByBars', ...everything, chartId, utcOffsetMinutes });
    await history.keepPasts(utcOffsetMinutes, rest);
  } catch {
    // The library was closed meanwhile, or cannot be read: who asks is told.
  }
}
