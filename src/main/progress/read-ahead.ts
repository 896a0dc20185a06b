/** What every first question after a start would have to wait for, done before it is asked; in small steps, so that nothing waits. */

import { dueOf, nameOfPractice, onceHeldBpm } from '../../core/progress/index.ts';
import type { GoalBook } from './goals.ts';
import type { History } from './history.ts';
import type { PracticeBook } from './practices.ts';
import type { ProgressHandlers } from './progress-handlers.ts';
import { type Rest, restNow, restsAtTimes } from './rest.ts';

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
 * What the screens of progress ask first comes before all else: today's session, which takes every practice, from what is kept of
 * the past. Then every month is read, for whoever asks about all takes, and what the next start need not reckon again is kept. It
 * fails where the library does, and nobody has asked.
 */
export async function readAhead(parts: ReadAheadParts): Promise<void> {
  const { history, practiceBook, goalBook, ask, nowMs, utcOffsetMinutes } = parts;
  const rest = parts.rest ?? restsAtTimes();
  const moment = { nowMs, utcOffsetMinutes };
  // The program starts first.
  await (parts.rest ?? restNow)();
  try {
    await history.warmUp(rest, moment);
    const practices = history.practices(moment);
    for (const practice of practices.values()) {
      await rest();
      const judged = practiceBook.judge(practice, nowMs);
      if (judged === null) continue;
      dueOf({ ...judged, hasGoalHeld: false }, nowMs, utcOffsetMinutes);
      onceHeldBpm(practice.played);
    }
    await goalBook.readAhead(practices, rest);
    await rest();
    const wish = { minutes: 30, dailyLimitMinutes: null, locked: [], skippedIds: [] };
    ask['progress.session']({ ...wish, utcOffsetMinutes });
    await rest();
    const [newest] = ask['progress.practices']({ most: 1, utcOffsetMinutes }).practices;
    await history.warmUp(rest);
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
    await history.keepPasts(moment, rest);
  } catch {
    // The library was closed meanwhile, or cannot be read: who asks is told.
  }
}
