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
import { inOrderOfTime } from '../../core/take/in-order.ts';
import type { TakeEvent, TakeEvents, TakeSource } from '../../core/take/model.ts';
import { encodeEvents, packEvents, unpackEvents } from './event-codec.ts';
import { packFigures } from './figures-codec.ts';
import { transaction } from './open-store.ts';
import { refusal, StoreError } from './store-error.ts';
import { DETAIL_COLUMNS, listText, readDetails } from './take-details.ts';

/** What is recorded of a take beside its events. */
export type BesideEvents = Pick<TakeEvents, 'sources' | 'breaks'>;

export interface TakeStore {
  /**
   * Opens the journal of a take that starts now. When the clock was set back a little since the take before, this one
   * starts just after that one, so that takes stay in the order they were played in.
   */
  begin(setUp: TakeSetUp, nowMs: number, sources?: readonly TakeSource[]): string;
  /**
   * Appends events to the journal in one transaction; on disk when it returns. `from` is the number of events before:
   * what is stored already is passed over, so a call may be repeated. Sources and breaks are all there have been so far, and
   * take the place of those before; without them those stay. Answers the number of events stored.
   */
  append(takeId: string, from: number, events: readonly TakeEvent[], beside?: BesideEvents): number;
  finish(takeId: string, endMs: number, figures: TakeFigures | null): void;
  /** Saves a whole take at once: all of it, or nothing. */
  add(
    setUp: TakeSetUp,
    startedAtMs: number,
    events: readonly TakeEvent[],
    endMs: number,
    figures: TakeFigures | null,
    beside?: BesideEvents,
  ): string;
  /** Newest first. */
  list(chartId: string | null, limit: number): readonly TakeRow[];
  get(takeId: string): TakeRecord;
  setNote(takeId: string, note: string): void;
  /** Keeps what the player answered to the take's first reading; null: undecided again. */
  decide(takeId: string, decision: TakeDecision | null): void;
  setDeleted(takeId: string, deletedAtMs: number | null): void;
  /** When the latest take started, ms since 1970; null without one. */
  latestStartMs(): number | null;
  /** Minutes of takes begun since a moment, ms since 1970. */
  minutesSince(fromMs: number): number;
  /** When each chart was last played. */
  lastPlayed(): ReadonlyMap<string, number>;
}

/**
 * A clock that goes back further than this is not set right by a bit: either it or the one of the latest take was
 * wrong, and following the latest take could date new ones years ahead. Own rule: a day and the width of the time zones.
 */
export const LARGEST_SET_BACK_MS = 50 * 3_600_000;

const COLUMNS =
  'take_id, set_up, chart_text, started_at_ms, end_ms, note, figures, finished, session_id';

/** The takes of a library. `sessionId` names this run of the program: an unfinished take of another can be recovered. */
export function createTakeStore(database: DatabaseSync, sessionId: string): TakeStore {
  const lastChunk = database.prepare(
    `SELECT from_event + events AS stored FROM take_chunks WHERE take_id = ?
     ORDER BY from_event DESC LIMIT 1`,
  );

  function requireChange(changes: number | bigint): void {
    if (Number(changes) === 0) {
      throw new StoreError(
        refusal('notFound', 'There is no such take.', 'Open the list of takes again.'),
      );
    }
  }

  function storedEvents(takeId: string): number {
    return Number(lastChunk.get(takeId)?.['stored'] ?? 0);
  }

  function writeChunk(takeId: string, from: number, events: readonly TakeEvent[]): void {
    database
      .prepare('INSERT INTO take_chunks (take_id, from_event, events, bytes) VALUES (?, ?, ?, ?)')
      .run(takeId, from, events.length, encodeEvents(events));
  }

  /** All events of a take in order of time, whatever the order they came in; or null when a part of them cannot be read. */
  function readEvents(takeId: string): readonly TakeEvent[] | null {
    const events: TakeEvent[] = [];
    const chunks = database
      .prepare('SELECT bytes, deflated FROM take_chunks WHERE take_id = ? ORDER BY from_event')
      .all(takeId);
    for (const { bytes, deflated } of chunks) {
      const decoded = bytes instanceof Uint8Array ? unpackEvents(bytes, deflated === 1) : null;
      if (decoded === null) return null;
      for (const event of decoded) events.push(event);
    }
    return inOrderOfTime(events);
  }

  /** Makes one chunk of the many a journal leaves: each costs more than the few notes in it. */
  function joinChunks(takeId: string): void {
    const events = readEvents(takeId);
    // What cannot be read is left as it is: it may yet be saved by hand.
    if (events === null || events.length === 0) return;
    database.prepare('DELETE FROM take_chunks WHERE take_id = ?').run(takeId);
    database
      .prepare(
        'INSERT INTO take_chunks (take_id, from_event, events, bytes, deflated) VALUES (?, 0, ?, ?, 1)',
      )
      .run(takeId, events.length, packEvents(events));
  }

  function toRow(record: Record<string, unknown>): TakeRow {
    const { chartText: _text, model: _model, ...setUp } = readSetUp(record);
    const finished = record['finished'] === 1;
    const figures = record['figures'];
    return {
      takeId: String(record['take_id']),
      startedAtMs: Number(record['started_at_ms']),
      endMs: Number(record['end_ms']),
      note: String(record['note']),
      figures: typeof figures === 'string' ? takeFiguresSchema.parse(JSON.parse(figures)) : null,
      state: finished
        ? 'finished'
        : record['session_id'] === sessionId
          ? 'recording'
          : 'recoverable',
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
    database
      .prepare(
        `INSERT INTO takes (take_id, chart_id, set_up, chart_text, started_at_ms, end_ms, session_id, sources)
           VALUES (?, ?, ?, ?, ?, 0, ?, ?)`,
      )
      .run(
        takeId,
        setUp.chartId,
        JSON.stringify(rest),
        chartText,
        startedAtMs,
        sessionId,
        listText(sources),
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
        requireChange(take === undefined ? 0 : 1);
        const stored = storedEvents(takeId);
        if (from > stored) {
          throw new StoreError(
            refusal(
              'badRequest',
              `Events ${stored} to ${from - 1} are missing.`,
              'Send them first.',
            ),
          );
        }
        const fresh = events.slice(stored - from);
        const sources = beside === undefined ? take?.['sources'] : listText(beside.sources);
        const breaks = beside === undefined ? take?.['breaks'] : listText(beside.breaks);
        const isSame = take?.['sources'] === sources && take?.['breaks'] === breaks;
        if (fresh.length === 0 && isSame) return stored;
        if (take?.['finished'] === 1) {
          throw new StoreError(
            refusal('notAllowed', 'This take is finished.', 'Begin a take for what is played now.'),
          );
        }
        if (fresh.length > 0) writeChunk(takeId, stored, fresh);
        const endMs = fresh.reduce((latest, { atMs }) => Math.max(latest, atMs), 0);
        database
          .prepare(
            'UPDATE takes SET end_ms = MAX(end_ms, ?), sources = ?, breaks = ? WHERE take_id = ?',
          )
          .run(endMs, sources ?? null, breaks ?? null, takeId);
        return stored + fresh.length;
      });
    },
    finish(takeId, endMs, figures) {
      const packed = packFigures(figures);
      transaction(database, () => {
        const { changes } = database
          .prepare(
            'UPDATE takes SET end_ms = ?, figures = ?, evidence = ?, finished = 1 WHERE take_id = ?',
          )
          .run(endMs, packed.figures, packed.evidence, takeId);
        requireChange(changes);
        joinChunks(takeId);
      });
    },
    add(setUp, startedAtMs, events, endMs, figures, beside) {
      return transaction(database, () => {
        const takeId = insertTake(setUp, [], startedAtMs);
        store.append(takeId, 0, events, beside);
        store.finish(takeId, endMs, figures);
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
      const record = database
        .prepare(`SELECT ${COLUMNS}, ${DETAIL_COLUMNS} FROM takes WHERE take_id = ?`)
        .get(takeId);
      if (record === undefined) {
        throw new StoreError(
          refusal('notFound', 'There is no such take.', 'Open the list of takes again.'),
        );
      }
      const events = readEvents(takeId);
      if (events === null) {
        throw new StoreError(
          refusal('damaged', 'A part of this take is damaged.', 'Restore a backup.'),
        );
      }
      return { row: toRow(record), setUp: readSetUp(record), events, ...readDetails(record) };
    },
    setNote(takeId, note) {
      requireChange(
        database.prepare('UPDATE takes SET note = ? WHERE take_id = ?').run(note, takeId).changes,
      );
    },
    decide(takeId, decision) {
      const text = decision === null ? null : JSON.stringify(decision);
      const { changes } = database
        .prepare('UPDATE takes SET decision = ? WHERE take_id = ?')
        .run(text, takeId);
      requireChange(changes);
    },
    setDeleted(takeId, deletedAtMs) {
      const { changes } = database
        .prepare('UPDATE takes SET deleted_at_ms = ? WHERE take_id = ?')
        .run(deletedAtMs, takeId);
      requireChange(changes);
    },
    minutesSince(fromMs) {
      const row = database
        .prepare(
          'SELECT SUM(end_ms) AS ms FROM takes WHERE deleted_at_ms IS NULL AND started_at_ms >= ?',
        )
        .get(fromMs);
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

function readSetUp(record: Record<string, unknown>): TakeSetUp {
  return takeSetUpSchema.parse({
    ...JSON.parse(String(record['set_up'])),
    chartText: record['chart_text'],
  });
}
