/**
 * What the takes before a month came to, kept beside the pieces of the months (`history-months.ts`) it was told from: it holds as
 * long as their sums are the same. A row for each clock it was told by.
 */

import type { DatabaseSync } from 'node:sqlite';
import { crc32 } from 'node:zlib';
import { transaction } from './open-store.ts';

export interface KeptPasts {
  /** The first month that is not in it any more. */
  readonly month: number;
  readonly text: string;
}

export interface HistoryPasts {
  /** What is kept, if it still says what the takes say; else null. */
  read(utcOffsetMinutes: number): KeptPasts | null;
  /** A sum over the pieces of all months before one; null where one has no piece. */
  sumBefore(month: number): number | null;
  /** Keeps what was told from months of a sum; nothing, where another sum is theirs by now. */
  keep(utcOffsetMinutes: number, pasts: KeptPasts, sum: number): void;
}

export function createHistoryPasts(database: DatabaseSync): HistoryPasts {
  const one = database.prepare(
    'SELECT month, sum, pasts FROM history_pasts WHERE utc_offset_minutes = ?',
  );
  // Of a month that was emptied the sum is not true any more.
  const sums = database.prepare(
    'SELECT month, iif(bytes IS NULL, NULL, sum) AS sum FROM history_months WHERE month < ? ORDER BY month',
  );
  const replace = database.prepare(
    `INSERT INTO history_pasts (utc_offset_minutes, month, sum, pasts) VALUES (?, ?, ?, ?)
     ON CONFLICT (utc_offset_minutes) DO UPDATE SET month = excluded.month, sum = excluded.sum, pasts = excluded.pasts`,
  );

  function sumBefore(before: number): number | null {
    let sum = 0;
    for (const { month, sum: own } of sums.all(before)) {
      if (own === null) return null;
      sum = crc32(`${month} ${own}`, sum);
    }
    return sum;
  }

  return {
    sumBefore,
    read(utcOffsetMinutes) {
      const row = one.get(utcOffsetMinutes);
      if (row === undefined) return null;
      const month = Number(row['month']);
      return sumBefore(month) === row['sum'] ? { month, text: String(row['pasts']) } : null;
    },
    keep(utcOffsetMinutes, { month, text }, sum) {
      transaction(database, () => {
        if (sumBefore(month) === sum) replace.run(utcOffsetMinutes, month, sum, text);
      });
    },
  };
}
