/**
 * What takes count for, in plain tables: one row for each take that counts, one for each of its bars, one for each practice and each
 * tempo of its days.
 * Whatever changes a take writes its rows anew in the same transaction, so that the tables never say other than the takes.
 */

import type { DatabaseSync } from 'node:sqlite';
import { z } from 'zod';
import { transaction } from './open-store.ts';
import { createPracticeForms, type PracticeForms } from './practice-forms.ts';
import { createSettlePractice, type Span } from './settle-practice.ts';
import { COUNTED, type CountedTake, readTake, TAKE_COLUMNS } from './take-row.ts';

export interface TakeFacts {
  /** Writes the rows of takes anew; none of those that do not count. */
  write(...takeIds: readonly string[]): void;
  /** Takes the rows of a take away that is about to go itself. */
  remove(takeId: string): void;
  /** Takes whose rows are still to be made, and takes that have theirs. */
  toMake(): number;
  made(): number;
  /** Makes the rows of so many of them, in one transaction; answers how many are left. */
  makeSome(most: number): number;
  /** Takes that do not count because what they came to cannot be read. */
  unread(): readonly string[];
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
  const settlePractice = createSettlePractice(database);
  const takeOf = database.prepare(
    `SELECT ${TAKE_COLUMNS}, chart_text FROM takes WHERE take_id = ? AND ${COUNTED}`,
  );
  const removeFacts = database.prepare(
    'DELETE FROM take_facts WHERE take_id = ? RETURNING practice, played_at_ms, day',
  );
  const removePractice = database.prepare('DELETE FROM practices WHERE practice = ?');
  const nameOf = database.prepare('SELECT chart_id, plan, key FROM practices WHERE practice = ?');
  const isMade = database.prepare('DELETE FROM facts_to_make WHERE take_id = ?');
  const isUnread = database.prepare('INSERT INTO unread_takes (take_id) VALUES (?)');
  const isRead = database.prepare('DELETE FROM unread_takes WHERE take_id = ?');
  const unread = database.prepare('SELECT take_id FROM unread_takes');
  const addPractice = database.prepare(
    'INSERT INTO practices (chart_id, plan, key, level, form) VALUES (?, ?, ?, ?, ?)',
  );
  const findPractice = database.prepare(
    'SELECT practice FROM practices WHERE chart_id = ? AND plan = ? AND key = ? AND level = ? AND form = ?',
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
  const made = database.prepare('SELECT count(*) AS takes FROM take_facts');
  const next = database.prepare('SELECT take_id FROM facts_to_make ORDER BY place LIMIT ?');

  function practiceNumber({ take, form }: Told): number {
    const name = [take.chartId, take.plan, take.key, take.level, form] as const;
    const found = findPractice.get(...name);
    if (found !== undefined) return Number(found['practice']);
    return Number(addPractice.run(...name).lastInsertRowid);
  }

  /** Answers whether what the take came to can be read. */
  function add(told: Told, touched: Touched): boolean {
    const { take, bars: range } = told;
    const { takeId, chartTitle, tempoBpm, day, evidence } = take;
    const counts = countsSchema.safeParse(evidence).data;
    if (counts === undefined) return false;
    const { playedAtMs, choruses, lateChanges } = evidence;
    const practice = practiceNumber(told);
    const number = addFacts.run(
      ...[takeId, practice, chartTitle, playedAtMs, day, tempoBpm],
      ...[range?.from ?? null, range?.to ?? null, choruses, counts.slots, counts.clean],
      ...[counts.changesCounted, counts.changesOnTime, counts.changesUnproven],
      ...[counts.changesLeftOut, evidence.isUndecided === true ? 1 : 0],
      lateChanges.length === 0 ? null : JSON.stringify(lateChanges),
    ).lastInsertRowid;
    for (const { bar, slots, clean, times, faultySquares } of counts.bars) {
      addBar.run(number, bar, slots, clean, times ?? null, faultySquares ?? null);
    }
    touch(touched, practice, playedAtMs, day);
    return true;
  }

  function takeAway(takeId: string, touched: Touched): void {
    const before = removeFacts.get(takeId);
    isMade.run(takeId);
    isRead.run(takeId);
    if (before === undefined) return;
    const { practice, played_at_ms: playedAtMs, day } = before;
    touch(touched, Number(practice), Number(playedAtMs), Number(day));
  }

  function settle(touched: Touched, forms: PracticeForms): void {
    const named = new Map<string, readonly [chartId: string, plan: string, key: string]>();
    for (const [practice, span] of touched) {
      const { chart_id: chartId, plan, key } = nameOf.get(practice) ?? {};
      const name = [String(chartId), String(plan), String(key)] as const;
      named.set(JSON.stringify(name), name);
      if (!settlePractice(practice, span)) removePractice.run(practice);
    }
    for (const name of named.values()) forms.settle(...name);
  }

  function write(takeIds: readonly string[]): void {
    const touched: Touched = new Map();
    const forms = createPracticeForms(database);
    for (const takeId of takeIds) {
      takeAway(takeId, touched);
      const row = takeOf.get(takeId);
      const counted = row === undefined ? null : readTake(row);
      if (row === undefined || counted === null) continue;
      if (counted === 'damaged') {
        isUnread.run(takeId);
        continue;
      }
      const { plan, key } = counted.take;
      const form = forms.formOf(String(row['chart_text']), plan, key);
      if (!add({ ...counted, form }, touched)) isUnread.run(takeId);
    }
    settle(touched, forms);
  }

  const toMake = (): number => Number(left.get()?.['takes'] ?? 0);
  return {
    write: (...takeIds) => transaction(database, () => write(takeIds)),
    remove(takeId) {
      transaction(database, () => {
        const touched: Touched = new Map();
        takeAway(takeId, touched);
        settle(touched, createPracticeForms(database));
      });
    },
    toMake,
    made: () => Number(made.get()?.['takes'] ?? 0),
    makeSome: (most) =>
      transaction(database, () => {
        write(next.all(most).map((row) => String(row['take_id'])));
        return toMake();
      }),
    unread: () => unread.all().map((row) => String(row['take_id'])),
    forgetAll() {
      transaction(database, () => {
        database.exec(`DELETE FROM take_facts; DELETE FROM practices; DELETE FROM facts_to_make; DELETE FROM unread_takes;
          INSERT INTO facts_to_make (take_id) SELECT take_id FROM takes WHERE ${COUNTED}
            ORDER BY chart_id, started_at_ms`);
      });
    },
  };
}

/** A take that counts, and the form it was of. */
interface Told extends CountedTake {
  readonly form: string;
}

/** When takes of practices were played that came or went, by the number of the practice. */
type Touched = Map<number, Span>;

function touch(touched: Touched, practice: number, atMs: number, day: number): void {
  const before = touched.get(practice);
  touched.set(practice, {
    fromMs: Math.min(atMs, before?.fromMs ?? atMs),
    toMs: Math.max(atMs, before?.toMs ?? atMs),
    fromDay: Math.min(day, before?.fromDay ?? day),
    toDay: Math.max(day, before?.toDay ?? day),
  });
}
