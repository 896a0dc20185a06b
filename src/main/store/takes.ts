/** Takes in the library, and the journal of the one being played. */

import { randomUUID } from 'node:crypto';
import type { DatabaseSync } from 'node:sqlite';
import {
  type TakeDecision,
  type TakeFigures,
  type TakeRecord,
  type TakeRow,
  type TakeSetUp,
  takeFiguresSchema,
  takeSetUpSchema,
} from '../../../shared/bridge/index.ts';
import type { Reading } from '../../core/grading/index.ts';
import { hasNote } from '../../core/take/has-note.ts';
import type { TakeEvent, TakeEvents, TakeSource } from '../../core/take/model.ts';
import { civilTimeAt } from './civil-time.ts';
import { packFigures } from './figures-codec.ts';
import { transaction } from './open-store.ts';
import { plainRefusal, refusal, StoreError } from './store-error.ts';
import { createTakeChunks } from './take-chunks.ts';
import { DETAIL_COLUMNS, listText, readDetails } from './take-details.ts';
import { createTakeFacts } from './take-facts.ts';

/** What is recorded of a take beside its events. */
export type BesideEvents = Pick<TakeEvents, 'sources' | 'breaks'>;

/**
 * The column `finished`: 0 for a take that is open. One that the host finished because its page was gone goes on when that page
 * comes back with more of it; one that its page finished does not.
 */
const FINISHED = { byPage: 1, byHost: 2 } as const;
export type FinishedBy = keyof typeof FINISHED;

export interface TakeName {
  readonly takeId: string;
  readonly chartId: string;
  readonly chartTitle: string;
  /** ms since 1970. */
  readonly startedAtMs: number;
}

/** What a take is graded from. */
export interface Recorded extends TakeName {
  /** Of the last event, or when the take was finished; on the take's own clock. */
  readonly endMs: number;
  /** What it was played on; null where it is damaged. */
  readonly setUp: TakeSetUp | null;
  /** Null where a part is damaged. */
  readonly take: TakeEvents | null;
  /** What was answered to its first reading. */
  readonly decision: TakeDecision | null;
  readonly isFinished: boolean;
  /** Whether it was looked how else it can be read. */
  readonly isRead: boolean;
}

export interface TakeStore {
  /**
   * Opens the journal of a take that starts now. When the clock was set back a little since the take before, this one
   * starts just after that one, so that takes stay in the order they were played in.
   */
  begin(setUp: TakeSetUp, nowMs: number, sources?: readonly TakeSource[]): string;
  /**
   * Appends events to the journal in one transaction; on disk when it returns. `from` is the number of events before:
   * what is stored already is passed over, so a call may be repeated. Sources and breaks are all there have been so far, and
   * take the place of those before; without them those stay. A take the host finished is open again when something came.
   */
  append(
    takeId: string,
    from: number,
    events: readonly TakeEvent[],
    beside?: BesideEvents,
  ): Appended;
  /** Null where there is no such take. */
  name(takeId: string): TakeName | null;
  /** What a take is graded from; null where there is no such take. */
  recorded(takeId: string): Recorded | null;
  /** Makes a take one that is finished, with its figures. */
  finish(
    takeId: string,
    endMs: number,
    figures: TakeFigures | null,
    by?: FinishedBy,
    /** How else it can be read; null: not looked at, what was known stays. */
    readings?: readonly Reading[] | null,
  ): void;
  /** Saves a whole take at once: all of it, or nothing. */
  add(
    setUp: TakeSetUp,
    startedAtMs: number,
    events: readonly TakeEvent[],
    endMs: number,
    figures: TakeFigures | null,
    beside?: BesideEvents & { readonly readings?: readonly Reading[] | null },
  ): string;
  /** Finishes a take in which nothing has been played yet, and hides it. */
  hide(takeId: string, nowMs: number): void;
  /** Takes a take away for good. */
  remove(takeId: string): void;
  /** The takes that are not finished, deleted ones too, the latest first. */
  unfinished(): readonly string[];
  /** The takes that are finished and not deleted, oldest first. */
  finished(): readonly string[];
  /** Takes that the host finished and that are deleted. */
  finishedAndDeleted(): readonly string[];
  /** Newest first. */
  list(chartId: string | null, limit: number): readonly TakeRow[];
  get(takeId: string): TakeRecord;
  setNote(takeId: string, note: string): void;
  /** Keeps what the player answered to the take's first reading (null: undecided again), and what it counts for by that. */
  decide(takeId: string, decision: TakeDecision | null, counted: Counted | null): void;
  /** Keeps how else a take can be read. */
  setReadings(takeId: string, readings: readonly Reading[]): void;
  setDeleted(takeId: string, deletedAtMs: number | null): void;
  /** When the latest take started, ms since 1970; null without one. */
  latestStartMs(): number | null;
  /** Minutes of takes begun on a day of the calendar where they were played; days since 1970. */
  minutesOn(day: number): number;
  /** When each chart was last played. */
  lastPlayed(): ReadonlyMap<string, number>;
}

/** What a take counts for, and the practice it counts in; without it both stay. */
export interface Counted {
  readonly figures: TakeFigures;
  readonly setUp: TakeSetUp;
}

export interface Appended {
  /** The number of events that are stored. */
  readonly stored: number;
  readonly state: 'open' | 'reopened' | 'finished';
}

/**
 * A clock that goes back further than this is not set right by a bit: either it or the one of the latest take was
 * wrong, and following the latest take could date new ones years ahead. Own rule: a day and the width of the time zones.
 */
export const LARGEST_SET_BACK_MS = 50 * 3_600_000;

const COLUMNS = 'take_id, set_up, chart_text, started_at_ms, end_ms, note, figures, finished';

/** The takes of a library. */
export function createTakeStore(database: DatabaseSync): TakeStore {
  const chunks = createTakeChunks(database);
  const facts = createTakeFacts(database);

  function rowOf(takeId: string): Record<string, unknown> | null {
    const columns = `${COLUMNS}, chart_id, ${DETAIL_COLUMNS}`;
    return database.prepare(`SELECT ${columns} FROM takes WHERE take_id = ?`).get(takeId) ?? null;
  }

  function requireChange(changes: number | bigint): void {
    if (Number(changes) === 0) throw noSuchTake();
  }

  /** A take that the host hid because nothing had been played yet is back with the first that was. */
  function reopen(takeId: string): void {
    const before = chunks.read(takeId);
    const isEmpty = before !== null && !hasNote(before);
    database
      .prepare(
        `UPDATE takes SET finished = 0, figures = NULL, evidence = NULL,
           deleted_at_ms = iif(?, NULL, deleted_at_ms) WHERE take_id = ?`,
      )
      .run(isEmpty ? 1 : 0, takeId);
    facts.write(takeId);
  }

  function toRow(record: Record<string, unknown>): TakeRow {
    const { chartText: _text, model: _model, ...setUp } = readSetUp(record);
    const figures = record['figures'];
    return {
      takeId: String(record['take_id']),
      startedAtMs: Number(record['started_at_ms']),
      endMs: Number(record['end_ms']),
      note: String(record['note']),
      figures: typeof figures === 'string' ? takeFiguresSchema.parse(JSON.parse(figures)) : null,
      state: record['finished'] === 0 ? 'recording' : 'finished',
      setUp,
    };
  }

  function insertTake(
    setUp: TakeSetUp,
    sources: readonly TakeSource[],
    startedAtMs: number,
  ): string {
    const takeId = randomUUID();
    const { chartText, ...rest } = setUp;
    const { day, minute, zone } = civilTimeAt(startedAtMs);
    database
      .prepare(
        `INSERT INTO takes (take_id, chart_id, set_up, chart_text, started_at_ms, day, minute, zone, end_ms,
           session_id, sources)
           VALUES (?, ?, ?, ?, ?, ?, ?, ?, 0, '', ?)`,
      )
      .run(
        ...[takeId, setUp.chartId, JSON.stringify(rest), chartText, startedAtMs],
        ...[day, minute, zone, listText(sources)],
      );
    return takeId;
  }

  const store: TakeStore = {
    begin(setUp, nowMs, sources = []) {
      const latestMs = store.latestStartMs();
      const isBehind =
        latestMs !== null && nowMs <= latestMs && latestMs - nowMs < LARGEST_SET_BACK_MS;
      return insertTake(setUp, sources, isBehind ? latestMs + 1 : nowMs);
    },
    latestStartMs() {
      const latest = database.prepare('SELECT MAX(started_at_ms) AS at FROM takes').get()?.['at'];
      return typeof latest === 'number' ? latest : null;
    },
    append(takeId, from, events, beside) {
      return transaction(database, () => {
        const take = database
          .prepare('SELECT finished, sources, breaks FROM takes WHERE take_id = ?')
          .get(takeId);
        if (take === undefined) throw noSuchTake();
        const stored = chunks.count(takeId);
        if (from > stored) {
          throw new StoreError(
            refusal('badRequest', { kind: 'eventsMissing', from: stored, to: from - 1 }),
          );
        }
        const fresh = events.slice(stored - from);
        const isOpen = take['finished'] === 0;
        const sources = beside === undefined ? take['sources'] : listText(beside.sources);
        const breaks = beside === undefined ? take['breaks'] : listText(beside.breaks);
        const isSame = take['sources'] === sources && take['breaks'] === breaks;
        if (fresh.length === 0 && isSame) return { stored, state: isOpen ? 'open' : 'finished' };
        if (take['finished'] === FINISHED.byPage) {
          throw new StoreError(plainRefusal('notAllowed', 'takeFinished'));
        }
        if (!isOpen) reopen(takeId);
        if (fresh.length > 0) chunks.write(takeId, stored, fresh);
        const endMs = fresh.reduce((latest, { atMs }) => Math.max(latest, atMs), 0);
        database
          .prepare(
            'UPDATE takes SET end_ms = MAX(end_ms, ?), sources = ?, breaks = ? WHERE take_id = ?',
          )
          .run(endMs, sources ?? null, breaks ?? null, takeId);
        return { stored: stored + fresh.length, state: isOpen ? 'open' : 'reopened' };
      });
    },
    name(takeId) {
      const record = rowOf(takeId);
      return record && nameOf(record);
    },
    recorded(takeId) {
      const record = rowOf(takeId);
      if (record === null) return null;
      const endMs = Number(record['end_ms']);
      const events = chunks.read(takeId);
      const details = orNull(() => readDetails(record));
      return {
        ...nameOf(record),
        endMs,
        setUp: orNull(() => readSetUp(record)),
        take: events && details && { ...details, events, endMs },
        decision: details?.decision ?? null,
        isFinished: record['finished'] !== 0,
        isRead: typeof record['readings'] === 'string',
      };
    },
    finish(takeId, endMs, figures, by = 'byPage', readings = null) {
      const packed = packFigures(figures);
      transaction(database, () => {
        const { changes } = database
          .prepare(
            `UPDATE takes SET end_ms = ?, figures = ?, evidence = ?, finished = ?,
               readings = coalesce(?, readings) WHERE take_id = ?`,
          )
          .run(endMs, packed.figures, packed.evidence, FINISHED[by], textOrNull(readings), takeId);
        requireChange(changes);
        chunks.join(takeId);
        facts.write(takeId);
      });
    },
    hide(takeId, nowMs) {
      transaction(database, () => {
        database
          .prepare('UPDATE takes SET finished = ?, deleted_at_ms = ? WHERE take_id = ?')
          .run(FINISHED.byHost, nowMs, takeId);
        facts.write(takeId);
      });
    },
    remove(takeId) {
      transaction(database, () => {
        facts.remove(takeId);
        database.prepare('DELETE FROM takes WHERE take_id = ?').run(takeId);
      });
    },
    unfinished: () =>
      database
        .prepare('SELECT take_id FROM takes WHERE finished = 0 ORDER BY started_at_ms DESC')
        .all()
        .map((row) => String(row['take_id'])),
    finished: () =>
      database
        .prepare(
          'SELECT take_id FROM takes WHERE finished <> 0 AND deleted_at_ms IS NULL ORDER BY started_at_ms',
        )
        .all()
        .map((row) => String(row['take_id'])),
    finishedAndDeleted: () =>
      database
        .prepare('SELECT take_id FROM takes WHERE finished = ? AND deleted_at_ms IS NOT NULL')
        .all(FINISHED.byHost)
        .map((row) => String(row['take_id'])),
    add(setUp, startedAtMs, events, endMs, figures, beside) {
      return transaction(database, () => {
        const takeId = insertTake(setUp, [], startedAtMs);
        store.append(takeId, 0, events, beside);
        store.finish(takeId, endMs, figures, 'byPage', beside?.readings ?? null);
        return takeId;
      });
    },
    list(chartId, limit) {
      const where = chartId === null ? '' : 'AND chart_id = ?';
      const statement = database.prepare(
        `SELECT ${COLUMNS} FROM takes WHERE deleted_at_ms IS NULL ${where}
         ORDER BY started_at_ms DESC LIMIT ?`,
      );
      const rows = chartId === null ? statement.all(limit) : statement.all(chartId, limit);
      return rows.map(toRow);
    },
    get(takeId) {
      const record = rowOf(takeId);
      if (record === null) throw noSuchTake();
      const events = chunks.read(takeId);
      if (events === null) {
        throw new StoreError(plainRefusal('damaged', 'takePartDamaged'));
      }
      return { row: toRow(record), setUp: readSetUp(record), events, ...readDetails(record) };
    },
    setNote(takeId, note) {
      requireChange(
        database.prepare('UPDATE takes SET note = ? WHERE take_id = ?').run(note, takeId).changes,
      );
    },
    decide(takeId, decision, counted) {
      transaction(database, () => {
        const { changes } = database
          .prepare('UPDATE takes SET decision = ? WHERE take_id = ?')
          .run(textOrNull(decision), takeId);
        requireChange(changes);
        if (counted !== null) {
          const { chartText: _text, ...setUp } = counted.setUp;
          const packed = packFigures(counted.figures);
          database
            .prepare('UPDATE takes SET set_up = ?, figures = ?, evidence = ? WHERE take_id = ?')
            .run(JSON.stringify(setUp), packed.figures, packed.evidence, takeId);
        }
        facts.write(takeId);
      });
    },
    setReadings(takeId, readings) {
      transaction(database, () => {
        database
          .prepare('UPDATE takes SET readings = ? WHERE take_id = ?')
          .run(JSON.stringify(readings), takeId);
        facts.write(takeId);
      });
    },
    setDeleted(takeId, deletedAtMs) {
      transaction(database, () => {
        const { changes } = database
          .prepare('UPDATE takes SET deleted_at_ms = ? WHERE take_id = ?')
          .run(deletedAtMs, takeId);
        requireChange(changes);
        facts.write(takeId);
      });
    },
    minutesOn(day) {
      const row = database
        .prepare('SELECT SUM(end_ms) AS ms FROM takes WHERE deleted_at_ms IS NULL AND day = ?')
        .get(day);
      return Number(row?.['ms'] ?? 0) / 60_000;
    },
    lastPlayed() {
      const rows = database
        .prepare(
          'SELECT chart_id, MAX(started_at_ms) AS at FROM takes WHERE deleted_at_ms IS NULL GROUP BY chart_id',
        )
        .all();
      return new Map(rows.map((row) => [String(row['chart_id']), Number(row['at'])]));
    },
  };
  return store;
}

function noSuchTake(): StoreError {
  return new StoreError(plainRefusal('notFound', 'noSuchTake'));
}

function nameOf(record: Record<string, unknown>): TakeName {
  return {
    takeId: String(record['take_id']),
    chartId: String(record['chart_id']),
    chartTitle: orNull(() => readSetUp(record))?.chartTitle ?? 'a chart',
    startedAtMs: Number(record['started_at_ms']),
  };
}

/** Null where it is damaged. */
function orNull<Value>(read: () => Value): Value | null {
  try {
    return read();
  } catch {
    return null;
  }
}

function textOrNull(value: unknown): string | null {
  return value === null ? null : JSON.stringify(value);
}

function readSetUp(record: Record<string, unknown>): TakeSetUp {
  return takeSetUpSchema.parse({
    ...JSON.parse(String(record['set_up'])),
    chartText: record['chart_text'],
  });
}
