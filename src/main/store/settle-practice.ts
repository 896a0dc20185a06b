/** What a practice, and each of its days, came to: told anew of the takes around those that have changed. */

import type { DatabaseSync } from 'node:sqlite';
import {
  DAY_RATINGS,
  type DayTempoRating,
  holdsAtEnd,
  memoryOf,
  type PlayedTake,
  rateDays,
  rateTempos,
  windowStartMs,
} from '../../core/progress/index.ts';
import { createFactReader, type TakeFact } from './fact-rows.ts';

/** Of a practice: when takes were played that have come, gone or changed. */
export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
  readonly fromDay: number;
  readonly toDay: number;
}

/** Tells one practice anew. Answers whether it has a take at all. */
export type SettlePractice = (practice: number, span: Span) => boolean;

/** How far on a take can make another hold: as far as the other looks back. */
const WINDOW_MS = -windowStartMs(0);

export function createSettlePractice(database: DatabaseSync): SettlePractice {
  const around = createFactReader(
    database,
    'f.practice = ? AND f.from_bar IS NULL AND f.played_at_ms BETWEEN ? AND ?',
  );
  const setHolds = database.prepare('UPDATE take_facts SET holds = ? WHERE take = ?');
  const forgetDays = database.prepare(
    'DELETE FROM day_ratings WHERE practice = ? AND day BETWEEN ? AND ?',
  );
  const addDay = database.prepare(
    'INSERT INTO day_ratings (practice, day, tempo_bpm, rating) VALUES (?, ?, ?, ?)',
  );
  const days = database.prepare(
    'SELECT day, tempo_bpm, rating FROM day_ratings WHERE practice = ? ORDER BY day',
  );
  const anyTake = database.prepare('SELECT 1 FROM take_facts WHERE practice = ? LIMIT 1');
  const tell = database.prepare(
    `UPDATE practices SET
       takes = (SELECT count(*) FROM take_facts WHERE practice = :practice AND from_bar IS NULL),
       last_take = (SELECT take FROM take_facts WHERE practice = :practice AND from_bar IS NULL
         ORDER BY played_at_ms DESC, take_id DESC LIMIT 1),
       once_held_bpm = (SELECT max(tempo_bpm) FROM take_facts WHERE practice = :practice AND holds = 1),
       last_day = :lastDay, due_day = :dueDay, stability_days = :stabilityDays, difficulty = :difficulty
     WHERE practice = :practice`,
  );

  function tellHolds(facts: readonly TakeFact[], { fromMs, toMs }: Span): void {
    for (const own of Map.groupBy(facts, ({ take }) => take.tempoBpm).values()) {
      own.forEach(({ row, take }, index) => {
        const { playedAtMs } = take.evidence;
        if (playedAtMs < fromMs || playedAtMs > toMs + WINDOW_MS) return;
        const oldestMs = windowStartMs(playedAtMs);
        const before = own
          .slice(index)
          .filter((one) => one.take.evidence.playedAtMs >= oldestMs)
          .map((one) => one.take);
        setHolds.run(holdsAtEnd(before) ? 1 : 0, row);
      });
    }
  }

  function tellDays(practice: number, takes: readonly PlayedTake[], span: Span): void {
    const { fromDay, toDay } = span;
    forgetDays.run(practice, fromDay, toDay);
    const changed = takes.filter(({ day }) => day >= fromDay && day <= toDay);
    for (const [day, own] of Map.groupBy(changed, (take) => take.day)) {
      for (const { tempoBpm, rating } of rateTempos(own)) {
        addDay.run(practice, day, tempoBpm, rating);
      }
    }
  }

  function ratings(practice: number): readonly DayTempoRating[] {
    return days.all(practice).flatMap(({ day, tempo_bpm, rating: told }) => {
      const rating = DAY_RATINGS.find((one) => one === told);
      return rating === undefined
        ? []
        : [{ day: Number(day), tempoBpm: Number(tempo_bpm), rating }];
    });
  }

  return (practice, span) => {
    const facts = around([practice, span.fromMs - WINDOW_MS, span.toMs + WINDOW_MS]);
    tellHolds(facts, span);
    tellDays(
      practice,
      facts.map(({ take }) => take),
      span,
    );
    const memory = memoryOf(rateDays(ratings(practice)));
    tell.run({
      practice,
      lastDay: memory?.lastDay ?? null,
      dueDay: memory?.dueDay ?? null,
      stabilityDays: memory?.stabilityDays ?? null,
      difficulty: memory?.difficulty ?? null,
    });
    return anyTake.get(practice) !== undefined;
  };
}
