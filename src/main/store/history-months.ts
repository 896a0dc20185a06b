/**
 * The counts of all takes of a month in one piece of bytes: ten years of them are read in some milliseconds, where row by row
 * they take seconds. A month is thirty days since 1970. Triggers in the library (`migrations.ts`, step 6) empty a month with
 * whatever changes one of its takes, so that a piece is there only while it says what the takes say; what is empty is read
 * from the takes.
 */

import { randomBytes } from 'node:crypto';
import type { DatabaseSync } from 'node:sqlite';
import { crc32 } from 'node:zlib';
import { transaction } from './open-store.ts';

/** Thirty days. */
export const MONTH_MS = 2_592_000_000;

/** Fewer than the head of a piece has. */
const MARK_BYTES = 7;

/** The index `takes_by_month` holds this expression, word for word. */
const MONTH_OF_TAKE = `CAST(min(max(started_at_ms, 0), 253370764800000) / ${MONTH_MS} AS INTEGER)`;

export interface HistoryMonths {
  /** Every month with a take, the latest first. */
  all(): readonly number[];
  /** What is kept of a month; null: to be read from the takes. */
  bytes(month: number): Uint8Array | null;
  /** Rows of the takes that count of a month, with `columns`. */
  takes(month: number): readonly Record<string, unknown>[];
  /** The month of a take, whether it counts or not; null where there is no such take. */
  monthOf(takeId: string): number | null;
  /** The same, to be kept in one piece once they are read. */
  begin(month: number): BegunMonth;
}

export interface BegunMonth {
  readonly rows: readonly Record<string, unknown>[];
  /** Keeps what was made of them; nothing, where a take of the month has changed since. */
  keep(bytes: Uint8Array): void;
}

/** `columns` and `counted` are SQL: what is read of a take, and which takes count. */
export function createHistoryMonths(
  database: DatabaseSync,
  columns: string,
  counted: string,
): HistoryMonths {
  const all = database.prepare('SELECT month FROM history_months ORDER BY month DESC');
  const one = database.prepare('SELECT bytes FROM history_months WHERE month = ?');
  const rows = database.prepare(
    `SELECT ${columns} FROM takes WHERE ${MONTH_OF_TAKE} = ? AND ${counted}`,
  );
  const monthOf = database.prepare(`SELECT ${MONTH_OF_TAKE} AS month FROM takes WHERE take_id = ?`);
  const replace = database.prepare(
    `UPDATE history_months SET bytes = :bytes, sum = :sum
     WHERE month = :month AND (:before IS NULL OR bytes = :before)`,
  );
  return {
    all: () => all.all().map(({ month }) => Number(month)),
    bytes(month) {
      const bytes = one.get(month)?.['bytes'];
      return bytes instanceof Uint8Array ? bytes : null;
    },
    takes: (month) => rows.all(month),
    monthOf(takeId) {
      const row = monthOf.get(takeId);
      return row === undefined ? null : Number(row['month']);
    },
    begin(month) {
      // Stands there until then: a change empties the month of it.
      const mark = randomBytes(MARK_BYTES);
      const found = transaction(database, () => {
        replace.run({ month, bytes: mark, sum: null, before: null });
        return rows.all(month);
      });
      return {
        rows: found,
        keep: (bytes) => replace.run({ month, bytes, sum: crc32(bytes), before: mark }),
      };
    },
  };
}
