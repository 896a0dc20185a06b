/** The takes that count, month by month: each month is read when it is first asked for, and kept up to date take by take. */

import type { DatabaseSync } from 'node:sqlite';
import { newestFirst, type PracticeName } from '../../core/progress/index.ts';
import { COUNTED, createHistoryMonths, readTake, TAKE_COLUMNS } from '../store/index.ts';
import { type KeptTake, type Month, packMonth, unpackMonth } from './month-codec.ts';
import type { Rest } from './rest.ts';

export interface Months {
  /** The latest month with a take; null without any. */
  latest(): number | null;
  /** The takes of wanted practices from a month on, newest first; months are read as they are come to. */
  takes(isWanted: (name: PracticeName) => boolean, fromMonth?: number): IteratorObject<KeptTake>;
  /** Reads a take again. */
  changed(takeId: string): void;
  /** Reads everything again. */
  forget(): void;
  /** Reads every month from one on, little by little, and keeps it in one piece, so that the next start reads it at once. */
  keep(rest: Rest, fromMonth?: number): Promise<void>;
}

export function createMonths(database: DatabaseSync): Months {
  const stored = createHistoryMonths(database, TAKE_COLUMNS, COUNTED);
  const one = database.prepare(
    `SELECT ${TAKE_COLUMNS} FROM takes WHERE take_id = ? AND ${COUNTED}`,
  );
  const read = new Map<number, Month>();
  /** Months that are kept in one piece. */
  const kept = new Set<number>();

  function readPiece(month: number): Month | null {
    const bytes = stored.bytes(month);
    const piece = bytes && unpackMonth(bytes);
    if (piece !== null) kept.add(month);
    return piece;
  }

  function readMonth(month: number): Month {
    const known = read.get(month) ?? readPiece(month) ?? monthOf(takesOf(stored.takes(month)));
    read.set(month, known);
    return known;
  }

  function forget(): void {
    read.clear();
    kept.clear();
  }

  async function keepMonth(month: number, rest: Rest): Promise<void> {
    const { rows, keep } = stored.begin(month);
    const takes: KeptTake[] = [];
    for (const row of rows) {
      await rest();
      takes.push(...takesOf([row]));
    }
    if (database.isOpen) keep(packMonth(takes.sort(newestTakeFirst)));
  }

  return {
    latest: () => stored.all()[0] ?? null,
    takes: (isWanted, fromMonth = Number.NEGATIVE_INFINITY) =>
      stored
        .all()
        .values()
        .filter((month) => month >= fromMonth)
        .flatMap((month) => readMonth(month).takes(isWanted)),
    changed(takeId) {
      const month = stored.monthOf(takeId);
      if (month === null) {
        forget();
        return;
      }
      kept.delete(month);
      // What has not been read yet will be.
      const before = read.get(month)?.takes(() => true);
      if (before === undefined) return;
      const row = one.get(takeId);
      const others = before.filter(({ take }) => take.takeId !== takeId);
      read.set(month, monthOf([...others, ...takesOf(row === undefined ? [] : [row])]));
    },
    forget,
    async keep(rest, fromMonth = Number.NEGATIVE_INFINITY) {
      for (const month of stored.all().filter((one) => one >= fromMonth)) {
        await rest();
        if (!database.isOpen) return;
        if (kept.has(month)) continue;
        const piece = readPiece(month);
        if (piece === null) await keepMonth(month, rest);
        else if (!read.has(month)) read.set(month, piece);
      }
    },
  };
}

/** In any order. */
function monthOf(kept: readonly KeptTake[]): Month {
  const newest = kept.toSorted(newestTakeFirst);
  return { takes: (isWanted) => newest.filter(({ take }) => isWanted(take)) };
}

function takesOf(rows: readonly Record<string, unknown>[]): readonly KeptTake[] {
  return rows.flatMap((row) => readTake(row) ?? []);
}

function newestTakeFirst(one: KeptTake, other: KeptTake): number {
  return newestFirst(one.take, other.take);
}
