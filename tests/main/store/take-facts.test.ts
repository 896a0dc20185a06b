/** The tables of what takes count for: whatever was done and in whatever order, they are those made anew from the takes. */

import type { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import type { TakeFigures } from '../../../shared/bridge/index.ts';
import { createTakeFacts, createTakeStore, openLibrary } from '../../../src/main/store/index.ts';
import { between, chanceOf } from '../../core/progress/chance.ts';
import { runs } from '../../helpers/runs.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const NOW_MS = Date.UTC(2026, 5, 1, 18);
const DAY_MS = 86_400_000;
const NOTE = { kind: 'noteOn', atMs: 10, midi: 60, velocity: 70 } as const;

function figures(slots: number, clean: number): TakeFigures {
  const bars = [1, 2].map((bar) => ({ bar, slots: slots / 2, clean: clean / 2 }));
  return {
    ...{ slots, clean, changesCounted: 4, changesOnTime: 3 },
    ...{ changesUnproven: 0, changesLeftOut: 0 },
    evidence: {
      ...{ choruses: 2, bars, chords: [] },
      lateChanges: [{ bar: 2, beat: 1, toChord: 'G7' }],
    },
  };
}

function setUp(tempoBpm: number, key: string) {
  const base = setUpFor('pier');
  return { ...base, key, grade: { ...base.grade, tempo: { kind: 'steady', tempoBpm } as const } };
}

/** Every row, by names and not by the numbers of rows. */
function rowsOf(database: DatabaseSync): unknown {
  const all = (sql: string) => database.prepare(sql).all();
  return {
    practices: all('SELECT chart_id, plan, key, level FROM practices ORDER BY 1, 2, 3, 4'),
    takes: all(
      `SELECT f.*, 0 AS take, 0 AS practice, p.key, p.level FROM take_facts f JOIN practices p USING (practice)
       ORDER BY take_id`,
    ),
    bars: all(
      `SELECT take_id, bar, b.slots, b.clean, times, faulty_squares FROM bar_facts b JOIN take_facts USING (take)
       ORDER BY take_id, bar`,
    ),
  };
}

test('any order of finishing, deleting, restoring, deciding and going on gives the tables made anew', () => {
  for (let seed = 0; seed < runs(400, 25); seed++) {
    const chance = chanceOf(seed);
    const database = openLibrary(':memory:');
    const store = createTakeStore(database);
    const facts = createTakeFacts(database);
    const ids: string[] = [];
    for (let step = 0; step < 40; step++) {
      const takeId = ids[Math.floor(chance() * ids.length)];
      const own = setUp(60 + 4 * Math.floor(chance() * 3), chance() < 0.5 ? 'C' : 'F');
      const counted = figures(64, 2 * Math.floor(between(chance, 20, 33)));
      const what = chance();
      if (takeId === undefined || what < 0.35) {
        const begun = store.begin(own, NOW_MS - between(chance, 0, 60) * DAY_MS);
        store.append(begun, 0, [NOTE]);
        ids.push(begun);
      } else if (what < 0.6) {
        const by = chance() < 0.5 ? 'byHost' : 'byPage';
        store.finish(takeId, 60_000, chance() < 0.9 ? counted : null, by);
      } else if (what < 0.7) store.setDeleted(takeId, NOW_MS);
      else if (what < 0.8) store.setDeleted(takeId, null);
      else if (what < 0.85) store.hide(takeId, NOW_MS);
      else if (what < 0.9) {
        store.decide(takeId, null, chance() < 0.5 ? { figures: counted, setUp: own } : null);
      } else if (what < 0.93) {
        store.remove(takeId);
        ids.splice(ids.indexOf(takeId), 1);
      } else if (store.recorded(takeId)?.isFinished === true) {
        const by = database.prepare('SELECT finished FROM takes WHERE take_id = ?').get(takeId);
        if (by?.['finished'] === 2) store.append(takeId, 1, [{ ...NOTE, atMs: 90_000 }]);
      }
    }
    const written = rowsOf(database);
    facts.forgetAll();
    while (facts.makeSome(3) > 0);
    expect(rowsOf(database)).toEqual(written);
  }
});

describe('making them anew', () => {
  function filled() {
    const database = openLibrary(':memory:');
    const store = createTakeStore(database);
    const facts = createTakeFacts(database);
    const add = (daysAgo: number): string =>
      store.add(setUp(60, 'C'), NOW_MS - daysAgo * DAY_MS, [NOTE], 60_000, figures(64, 60));
    const ids = Array.from({ length: 20 }, (_, index) => add(index));
    return { database, store, facts, add, ids };
  }

  test('goes on where it was broken off, and what is played meanwhile is there once', () => {
    const { database, store, facts, add } = filled();
    facts.forgetAll();
    expect(facts.makeSome(7)).toBe(13);
    add(0);
    const waiting = database.prepare('SELECT take_id FROM facts_to_make').get() ?? {};
    store.setDeleted(String(waiting['take_id']), NOW_MS);
    const again = createTakeFacts(database);
    expect(again.toMake()).toBe(12);
    while (again.makeSome(5) > 0);
    const { takes } = database.prepare('SELECT count(*) AS takes FROM take_facts').get() ?? {};
    expect(takes).toBe(20);
  });

  test('leaves out a take whose figures cannot be read, and no other', () => {
    const { database, facts, ids } = filled();
    database.prepare("UPDATE takes SET evidence = x'00' WHERE take_id = ?").run(ids[3] ?? '');
    facts.forgetAll();
    expect(facts.makeSome(100)).toBe(0);
    const rows = database.prepare('SELECT take_id FROM take_facts').all();
    expect(rows).toHaveLength(19);
    expect(rows.map((row) => row['take_id'])).not.toContain(ids[3]);
  });
});

test('the bars of a practice are found without going through those of all', () => {
  const database = openLibrary(':memory:');
  const plan = database
    .prepare(
      `EXPLAIN QUERY PLAN SELECT b.* FROM take_facts f JOIN bar_facts b USING (take)
       WHERE practice = 1 ORDER BY played_at_ms DESC`,
    )
    .all()
    .map(({ detail }) => String(detail));
  expect(plan.filter((step) => step.startsWith('SCAN'))).toEqual([]);
});
