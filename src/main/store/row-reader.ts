/**
 * Rows of a library that may be damaged, each for itself. They are looked for from the front, from the back and by
 * their index: a page that is damaged hides those on it and no others.
 */

import type { DatabaseSync } from 'node:sqlite';
import { z } from 'zod';
import type { Unread } from '../../../shared/bridge/index.ts';

export interface RowReader {
  /** The row numbers of a table, each once, in an order; by more ways than one when that is blocked. */
  rowNumbers(table: string, order: string, index: string): readonly number[];
  /** One row; null when it cannot be read. */
  row<Row>(schema: z.ZodType<Row>, table: string, number: number): Row | null;
  /** All rows of a small table that can be read; none of a table that an older library does not have. */
  allRows<Row>(schema: z.ZodType<Row>, table: string, columns: string): readonly Row[];
}

/** Reads rows; what may be missing is added to `unread`. */
export function createRowReader(database: DatabaseSync, unread: Unread[]): RowReader {
  const hasTable = (name: string): boolean => {
    try {
      return database.prepare('SELECT 1 FROM sqlite_master WHERE name = ?').get(name) !== undefined;
    } catch {
      // A table that can be read all the same is looked for below.
      return true;
    }
  };

  /** What a query gives until it fails; whether it did. */
  function scan(sql: string): { readonly rows: readonly unknown[]; readonly failed: boolean } {
    const rows: unknown[] = [];
    try {
      for (const row of database.prepare(sql).iterate()) rows.push(row);
      return { rows, failed: false };
    } catch {
      return { rows, failed: true };
    }
  }

  function rowNumbers(table: string, order: string, index: string): readonly number[] {
    const found = new Set<number>();
    const take = (sql: string): boolean => {
      const { rows, failed } = scan(sql);
      for (const row of rows) found.add(z.object({ id: z.number() }).parse(row).id);
      return failed;
    };
    if (!take(`SELECT rowid AS id FROM ${table} NOT INDEXED ORDER BY ${order}`)) return [...found];
    take(`SELECT rowid AS id FROM ${table} NOT INDEXED ORDER BY rowid`);
    take(`SELECT rowid AS id FROM ${table} NOT INDEXED ORDER BY rowid DESC`);
    const blocked = take(`SELECT rowid AS id FROM ${table} ORDER BY ${index}`);
    if (blocked) {
      take(`SELECT rowid AS id FROM ${table} ORDER BY ${index} DESC`);
      unread.push({ kind: 'hidden', table });
    }
    return [...found];
  }

  function row<Row>(schema: z.ZodType<Row>, table: string, number: number): Row | null {
    try {
      return schema.parse(database.prepare(`SELECT * FROM ${table} WHERE rowid = ?`).get(number));
    } catch {
      return null;
    }
  }

  function allRows<Row>(schema: z.ZodType<Row>, table: string, columns: string): readonly Row[] {
    if (!hasTable(table)) return [];
    const forward = scan(`SELECT ${columns} FROM ${table}`);
    if (forward.failed) unread.push({ kind: 'some', table });
    return forward.rows.flatMap((row) => {
      const read = schema.safeParse(row);
      if (!read.success) unread.push({ kind: 'some', table });
      return read.success ? [read.data] : [];
    });
  }

  return { rowNumbers, row, allRows };
}
