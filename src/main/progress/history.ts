/** What was played, as the tables of the library tell it (`store/take-facts.ts`): each question is one look at them. */

import type { DatabaseSync } from 'node:sqlite';
import {
  isOfFilter,
  type KeptPractice,
  nameOfPractice,
  type PlayedTake,
  type Practice,
  type PracticeName,
  practiceId,
  practiceOf,
  type RangeTake,
  type TakeFilter,
  windowStartMs,
} from '../../core/progress/index.ts';
import { LEVELS } from '../../core/words.ts';
import { createChordReader, createFactReader } from '../store/index.ts';

export interface History {
  /** The practices there are in the forms that charts have now, the one played last first. */
  kept(): readonly StoredPractice[];
  /** Practices at a moment, ms since 1970. */
  judge(practices: readonly StoredPractice[], nowMs: number): readonly Practice[];
  /** Those of forms that charts do not have now, the one played last first. */
  before(): readonly KeptPractice[];
  /** Every take of a practice over the whole form, newest first. */
  takes(practice: StoredPractice): readonly TakeCounts[];
  /** Takes of some bars alone, newest first: those of the last `WINDOW_DAYS`. */
  recentDrills(nowMs: number): readonly RangeTake[];
  /** The newest takes over the whole form that pass a filter, newest first. */
  newest(filter: TakeFilter, most: number): readonly PlayedTake[];
  /** The takes with what each of their chords came to. */
  withChords(takes: readonly PlayedTake[]): readonly PlayedTake[];
}

export interface StoredPractice extends KeptPractice {
  /** The number of its row. */
  readonly row: number;
}

/** What a plot of many takes needs of each. */
export interface TakeCounts {
  readonly takeId: string;
  readonly tempoBpm: number;
  readonly day: number;
  /** Ms since 1970. */
  readonly playedAtMs: number;
  readonly slots: number;
  readonly clean: number;
}

const KEPT = `
  SELECT p.*, f.take_id, f.chart_title, f.tempo_bpm, f.played_at_ms, f.day
  FROM practices p CROSS JOIN take_facts f ON f.take = p.last_take`;

/** The history of a library. */
export function createHistory(database: DatabaseSync): History {
  const kept = database.prepare(`${KEPT} WHERE p.is_present = 1 ORDER BY f.played_at_ms DESC`);
  const before = database.prepare(`${KEPT} WHERE p.is_present = 0 ORDER BY f.played_at_ms DESC`);
  const takes = database.prepare(
    `SELECT take_id, tempo_bpm, day, played_at_ms, slots, clean FROM take_facts
     WHERE practice = ? AND from_bar IS NULL ORDER BY played_at_ms DESC, take_id DESC`,
  );
  const recent = createFactReader(
    database,
    `f.practice IN (SELECT value FROM json_each(?)) AND f.from_bar IS NULL AND f.played_at_ms >= ?`,
  );
  const drills = createFactReader(
    database,
    'f.from_bar IS NOT NULL AND p.is_present = 1 AND f.played_at_ms >= ?',
  );
  const passing = `f.from_bar IS NULL AND f.tempo_bpm BETWEEN ? AND ? AND f.played_at_ms BETWEEN ? AND ?`;
  const everything = createFactReader(database, `${passing} AND p.is_present = 1`);
  const ofPractices = createFactReader(
    database,
    `f.practice IN (SELECT value FROM json_each(?)) AND ${passing}`,
  );

  const history: History = {
    kept: () => kept.all().map(toPractice),
    judge(practices, nowMs) {
      const rows = JSON.stringify(practices.map(({ row }) => row));
      const own = Map.groupBy(recent([rows, windowStartMs(nowMs)]), (fact) => fact.practice);
      return practices.map(({ row, ...practice }) =>
        practiceOf(
          practice,
          (own.get(row) ?? []).map(({ take }) => take),
          nowMs,
        ),
      );
    },
    before: () => before.all().map(toPractice),
    takes: ({ row }) =>
      takes.all(row).map((take) => ({
        takeId: String(take['take_id']),
        tempoBpm: Number(take['tempo_bpm']),
        day: Number(take['day']),
        playedAtMs: Number(take['played_at_ms']),
        slots: Number(take['slots']),
        clean: Number(take['clean']),
      })),
    recentDrills: (nowMs) =>
      drills([windowStartMs(nowMs)]).flatMap(({ take, bars }) =>
        bars === null ? [] : [{ ...take, bars }],
      ),
    newest(filter, most) {
      const { tempoBpm, playedAtMs, chartId, plan, key, level } = filter;
      const ranges = [...rangeOf(tempoBpm), ...rangeOf(playedAtMs)];
      const isOfAll = [chartId, plan, key, level].every((part) => part === null);
      const rows = (): string =>
        JSON.stringify(
          history.kept().flatMap(({ name, row }) => (isOfFilter(filter, name) ? [row] : [])),
        );
      const facts = isOfAll ? everything(ranges, most) : ofPractices([rows(), ...ranges], most);
      return facts.map(({ take }) => take);
    },
    withChords: createChordReader(database),
  };
  return history;
}

/** Whether a practice is the one of a name. */
export function isNamed(name: PracticeName): (practice: KeptPractice) => boolean {
  const id = practiceId(name);
  return (practice) => practiceId(practice.name) === id;
}

function rangeOf(range: TakeFilter['tempoBpm']): readonly [from: number, to: number] {
  return [range?.from ?? -Number.MAX_VALUE, range?.to ?? Number.MAX_VALUE];
}

function toPractice(row: Record<string, unknown>): StoredPractice {
  const number = (column: string): number => Number(row[column]);
  const orNull = (column: string): number | null => (row[column] === null ? null : number(column));
  const level = LEVELS.find((one) => one === row['level']) ?? 'steps';
  const [chartId, plan, key] = [String(row['chart_id']), String(row['plan']), String(row['key'])];
  return {
    row: number('practice'),
    name: nameOfPractice({ chartId, plan, key, level }),
    takeCount: number('takes'),
    last: {
      takeId: String(row['take_id']),
      chartTitle: String(row['chart_title']),
      tempoBpm: number('tempo_bpm'),
      day: number('day'),
      playedAtMs: number('played_at_ms'),
    },
    onceHeldBpm: orNull('once_held_bpm'),
    memory:
      row['last_day'] === null
        ? null
        : {
            lastDay: number('last_day'),
            dueDay: number('due_day'),
            stabilityDays: number('stability_days'),
            difficulty: number('difficulty'),
          },
  };
}
