/**
 * What takes count for, in plain tables: one row for each take that counts, one for each of its bars, one for each practice.
 * Whatever changes a take writes its rows anew in the same transaction, so that the tables never say other than the takes.
 */

import type { DatabaseSync } from 'node:sqlite';
import { z } from 'zod';
import type { PracticeName } from '../../core/progress/index.ts';
import { civilTimeAt } from './civil-time.ts';
import { transaction } from './open-store.ts';
import { COUNTED, type CountedTake, readTake, TAKE_COLUMNS } from './take-row.ts';

export interface TakeFacts {
  /** Writes the rows of a take anew; none where it does not count. */
  write(takeId: string): void;
  /** Takes the rows of a take away that is about to go itself. */
  remove(takeId: string): void;
  /** Takes whose rows are still to be made. */
  toMake(): number;
  /** Makes the rows of so many of them, in one transaction; answers how many are left. */
  makeSome(most: number): number;
  /** Takes every row away: all are to be made. */
  forgetAll(): void;
}

const count = z.int().min(0);
/** What the columns hold: of a take with other counts nothing is known. */
const countsSchema = z.object({
  slots: count,
  clean: count,
  changesCounted: count,
  changesOnTime: count,
  changesUnproven: count,
  changesLeftOut: count,
  bars: z.array(
    z.object({
      bar: z.int(),
      slots: count,
      clean: count,
      times: count.optional(),
      faultySquares: count.optional(),
    }),
  ),
});

export function createTakeFacts(database: DatabaseSync): TakeFacts {
  const takeOf = database.prepare(
    `SELECT ${TAKE_COLUMNS}, day FROM takes WHERE take_id = ? AND ${COUNTED}`,
  );
  const removeFacts = database.prepare(
    'DELETE FROM take_facts WHERE take_id = ? RETURNING practice',
  );
  const removePractice = database.prepare(
    `DELETE FROM practices WHERE practice = :practice
     AND NOT EXISTS (SELECT 1 FROM take_facts WHERE practice = :practice)`,
  );
  const isMade = database.prepare('DELETE FROM facts_to_make WHERE take_id = ?');
  const addPractice = database.prepare(
    `INSERT INTO practices (chart_id, plan, key, level) VALUES (?, ?, ?, ?)
     ON CONFLICT DO NOTHING`,
  );
  const findPractice = database.prepare(
    'SELECT practice FROM practices WHERE chart_id = ? AND plan = ? AND key = ? AND level = ?',
  );
  const addFacts = database.prepare(
    `INSERT INTO take_facts (take_id, practice, chart_title, played_at_ms, day, tempo_bpm, from_bar, to_bar, choruses,
       slots, clean, changes_counted, changes_on_time, changes_unproven, changes_left_out, is_undecided, late_changes)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const addBar = database.prepare(
    `INSERT INTO bar_facts (take, bar, slots, clean, times, faulty_squares) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT DO NOTHING`,
  );
  const left = database.prepare('SELECT count(*) AS takes FROM facts_to_make');
  const next = database.prepare('SELECT take_id FROM facts_to_make LIMIT ?');

  function practiceNumber({ chartId, plan, key, level }: PracticeName): number {
    const name = [chartId, plan, key, level] as const;
    const found = findPractice.get(...name);
    if (found !== undefined) return Number(found['practice']);
    return Number(addPractice.run(...name).lastInsertRowid);
  }

  function add({ take, bars: range }: CountedTake, playedDay: unknown): void {
    const { takeId, chartTitle, tempoBpm, evidence } = take;
    const counts = countsSchema.safeParse(evidence).data;
    if (counts === undefined) return;
    const { playedAtMs, choruses, lateChanges } = evidence;
    const day = typeof playedDay === 'number' ? playedDay : civilTimeAt(playedAtMs).day;
    const number = addFacts.run(
      ...[takeId, practiceNumber(take), chartTitle, playedAtMs, day, tempoBpm],
      ...[range?.from ?? null, range?.to ?? null, choruses, counts.slots, counts.clean],
      ...[counts.changesCounted, counts.changesOnTime, counts.changesUnproven],
      ...[counts.changesLeftOut, evidence.isUndecided === true ? 1 : 0],
      lateChanges.length === 0 ? null : JSON.stringify(lateChanges),
    ).lastInsertRowid;
    for (const { bar, slots, clean, times, faultySquares } of counts.bars) {
      addBar.run(number, bar, slots, clean, times ?? null, faultySquares ?? null);
    }
  }

  function write(takeId: string): void {
    const before = removeFacts.get(takeId);
    const row = takeOf.get(takeId);
    const counted = row === undefined ? null : readTake(row);
    if (counted !== null) add(counted, row?.['day']);
    if (before !== undefined) removePractice.run({ practice: before['practice'] ?? null });
    isMade.run(takeId);
  }

  function remove(takeId: string): void {
    const before = removeFacts.get(takeId);
    if (before !== undefined) removePractice.run({ practice: before['practice'] ?? null });
    isMade.run(takeId);
  }

  const toMake = (): number => Number(left.get()?.['takes'] ?? 0);
  return {
    write: (takeId) => transaction(database, () => write(takeId)),
    remove: (takeId) => transaction(database, () => remove(takeId)),
    toMake,
    makeSome: (most) =>
      transaction(database, () => {
        for (const row of next.all(most)) write(String(row['take_id']));
        return toMake();
      }),
    forgetAll() {
      transaction(database, () => {
        database.exec(`DELETE FROM take_facts; DELETE FROM practices; DELETE FROM facts_to_make;
          INSERT INTO facts_to_make SELECT take_id FROM takes WHERE ${COUNTED}`);
      });
    },
  };
}
