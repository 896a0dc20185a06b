/** The tables of what takes count for: whatever was done and in whatever order, they are those made anew, and say what the takes say. */

import type { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import type { TakeFigures } from '../../../shared/bridge/index.ts';
import { type PlayedTake, practicesOf, WINDOW_DAYS } from '../../../src/core/progress/index.ts';
import { createHistory } from '../../../src/main/progress/history.ts';
import {
  createLibrary,
  createTakeFacts,
  createTakeStore,
  type Incoming,
  mergeContents,
  openLibrary,
  packTake,
  readContents,
} from '../../../src/main/store/index.ts';
import { COUNTED, readTake, TAKE_COLUMNS } from '../../../src/main/store/take-row.ts';
import { between, chanceOf } from '../../core/progress/chance.ts';
import { runs } from '../../helpers/runs.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const NOW_MS = Date.UTC(2026, 5, 1, 18);
const DAY_MS = 86_400_000;
const NOTE = { kind: 'noteOn', atMs: 10, midi: 60, velocity: 70 } as const;
const TEXTS = [
  'title: Pier\nkey: C\nmeter: 4/4\n| Dm7 | G7 | Cmaj7 | Cmaj7 |\n',
  'title: Pier\nkey: C\nmeter: 4/4\n| Dm7 | Db7 | Cmaj7 | Cmaj7 |\n',
] as const;

function figures(slots: number, clean: number): TakeFigures {
  const bars = [1, 2].map((bar) => ({ bar, slots: slots / 2, clean: clean / 2 }));
  return {
    ...{ slots, clean, changesCounted: 4, changesOnTime: 4 },
    ...{ changesUnproven: 0, changesLeftOut: 0 },
    evidence: {
      ...{ choruses: 2, bars, chords: [] },
      lateChanges: [{ bar: 2, beat: 1, toChord: 'G7' }],
    },
  };
}

function setUp(tempoBpm: number, key: string, chartText: string = TEXTS[0]) {
  const base = setUpFor('pier');
  const grade = { ...base.grade, tempo: { kind: 'steady', tempoBpm } as const };
  return { ...base, key, chartText, grade };
}

/** Every row, by names and not by the numbers of rows. */
function rowsOf(database: DatabaseSync): unknown {
  const all = (sql: string) => database.prepare(sql).all();
  const name = 'p.chart_id, p.plan, p.key, p.level, p.form';
  return {
    practices: all(
      `SELECT p.*, 0 AS practice, 0 AS last_take, f.take_id FROM practices p LEFT JOIN take_facts f ON f.take = last_take
       ORDER BY ${name}`,
    ),
    takes: all(
      `SELECT f.*, 0 AS take, 0 AS practice, ${name} FROM take_facts f JOIN practices p USING (practice)
       ORDER BY take_id`,
    ),
    bars: all(
      `SELECT take_id, bar, b.slots, b.clean, times, faulty_squares FROM bar_facts b JOIN take_facts USING (take)
       ORDER BY take_id, bar`,
    ),
    days: all(
      `SELECT ${name}, day, tempo_bpm, rating FROM day_ratings JOIN practices p USING (practice)
       ORDER BY ${name}, day, tempo_bpm`,
    ),
  };
}

/** Practices as the core tells them from every take, read one by one. */
function toldPlainly(database: DatabaseSync, nowMs: number) {
  const takes = database
    .prepare(`SELECT ${TAKE_COLUMNS} FROM takes WHERE ${COUNTED}`)
    .all()
    .flatMap((row): readonly PlayedTake[] => {
      const counted = readTake(row);
      if (counted === 'damaged' || counted === null) return [];
      return counted.bars === null ? [counted.take] : [];
    });
  return practicesOf(takes, nowMs);
}

/** What a library holds, as an archive brings it into another. */
function contentsOf(database: DatabaseSync): Incoming {
  const contents = readContents(database);
  return {
    charts: contents.charts(),
    ...{ tags: [], melodies: [], settings: [], devices: [], remarks: [] },
    takes: contents.takeRows().flatMap((row) => {
      const take = contents.take(row);
      return take === null ? [] : [packTake(take)];
    }),
  };
}

/** Does something by chance to a library many times over. */
function play(seed: number, texts: readonly string[]) {
  const chance = chanceOf(seed);
  const database = openLibrary(':memory:');
  const store = createTakeStore(database);
  const library = createLibrary(database);
  const ids: string[] = [];
  for (let step = 0; step < 60; step++) {
    const takeId = ids[Math.floor(chance() * ids.length)];
    const text = texts[Math.floor(chance() * texts.length)] ?? '';
    const bars = chance() < 0.1 ? { from: 1, to: 2 } : null;
    const own = {
      ...setUp(60 + 2 * Math.floor(chance() * 3), chance() < 0.7 ? 'C' : 'F', text),
      bars,
    };
    const counted = figures(64, 2 * Math.floor(between(chance, 26, 33)));
    const what = chance();
    if (takeId === undefined || what < 0.4) {
      const begun = store.begin(own, NOW_MS - between(chance, 0, 60) * DAY_MS);
      store.append(begun, 0, [NOTE]);
      if (chance() < 0.8) store.finish(begun, 60_000, counted);
      ids.push(begun);
    } else if (what < 0.6) {
      const by = chance() < 0.5 ? 'byHost' : 'byPage';
      store.finish(takeId, 60_000, chance() < 0.9 ? counted : null, by);
    } else if (what < 0.7) store.setDeleted(takeId, NOW_MS);
    else if (what < 0.8) store.setDeleted(takeId, null);
    else if (what < 0.83) store.hide(takeId, NOW_MS);
    else if (what < 0.88) {
      store.decide(takeId, null, chance() < 0.5 ? { figures: counted, setUp: own } : null);
    } else if (what < 0.91) {
      store.remove(takeId);
      ids.splice(ids.indexOf(takeId), 1);
    } else if (what < 0.96) library.saveChart('pier', 'Pier', text, NOW_MS);
    else if (store.recorded(takeId)?.isFinished === true) {
      const by = database.prepare('SELECT finished FROM takes WHERE take_id = ?').get(takeId);
      if (by?.['finished'] === 2) store.append(takeId, 1, [{ ...NOTE, atMs: 90_000 }]);
    }
  }
  return database;
}

test('any order of finishing, deleting, restoring, deciding, editing and going on gives the tables made anew', () => {
  for (let seed = 0; seed < runs(400, 25); seed++) {
    const database = play(seed, TEXTS);
    const written = rowsOf(database);
    const facts = createTakeFacts(database);
    facts.forgetAll();
    while (facts.makeSome(1 + (seed % 7)) > 0);
    expect(rowsOf(database)).toEqual(written);
  }
});

test('what comes in from another library is counted as what was played here', () => {
  for (let seed = 0; seed < runs(100, 6); seed++) {
    const [database, other] = [play(2 * seed, TEXTS), play(2 * seed + 1, TEXTS)];
    mergeContents(database, contentsOf(other));
    const merged = rowsOf(database);
    // A second time it adds nothing.
    mergeContents(database, contentsOf(other));
    expect(rowsOf(database)).toEqual(merged);
    const store = createTakeStore(database);
    for (const takeId of store.finished().slice(0, 3)) store.setDeleted(takeId, NOW_MS);
    const written = rowsOf(database);
    const facts = createTakeFacts(database);
    facts.forgetAll();
    while (facts.makeSome(5) > 0);
    expect(rowsOf(database)).toEqual(written);
  }
});

test('practices are those that the core tells from every take, read one by one', () => {
  for (let seed = 1000; seed < 1000 + runs(400, 25); seed++) {
    const database = play(seed, TEXTS.slice(0, 1));
    const history = createHistory(database);
    for (const daysOn of [0, 20, WINDOW_DAYS + 10]) {
      const nowMs = NOW_MS + daysOn * DAY_MS;
      expect(history.judge(history.kept(), nowMs)).toEqual(toldPlainly(database, nowMs));
    }
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
    const { database, store, facts, ids } = filled();
    database.prepare("UPDATE takes SET evidence = x'00' WHERE take_id = ?").run(ids[3] ?? '');
    facts.forgetAll();
    expect(facts.makeSome(100)).toBe(0);
    const rows = database.prepare('SELECT take_id FROM take_facts').all();
    expect(rows).toHaveLength(19);
    expect(rows.map((row) => row['take_id'])).not.toContain(ids[3]);
    expect(facts.unread()).toEqual([ids[3]]);
    // Graded again it counts.
    const counted = { figures: figures(64, 60), setUp: setUp(60, 'C') };
    store.decide(ids[3] ?? '', null, counted);
    expect([facts.unread(), facts.made()]).toEqual([[], 20]);
  });
});

describe('a history follows the music', () => {
  const [OLD, NEW] = TEXTS;
  function opened() {
    const database = openLibrary(':memory:');
    const store = createTakeStore(database);
    const library = createLibrary(database);
    const add = (text: string, daysAgo = 1) =>
      store.add(setUp(60, 'C', text), NOW_MS - daysAgo * DAY_MS, [NOTE], 60_000, figures(64, 64));
    const takesOf = () =>
      createHistory(database)
        .kept()
        .map(({ takeCount }) => takeCount);
    return { database, library, add, takesOf };
  }

  test.each([
    ['a title', OLD.replace('Pier', 'Long Pier')],
    ['a tempo', OLD.replace('meter', 'tempo: 90\nmeter')],
    ['a comment', `${OLD}# slowly\n`],
    ['a section', OLD.replace('| Dm7', '[A]\n| Dm7')],
    ['another way to write a bar', OLD.replace('| Cmaj7 |\n', '| % |\n')],
    ['another name of a chord', OLD.replace('Cmaj7 |\n', 'CM7 |\n')],
    ['a plan', `${OLD}plan: side door\n| % | Db7 | % | % |\n`],
  ])('%s changes nothing', (_what, text) => {
    const { library, add, takesOf } = opened();
    library.saveChart('pier', 'Pier', OLD, NOW_MS);
    add(OLD);
    library.saveChart('pier', 'Pier', text, NOW_MS);
    expect(takesOf()).toEqual([1]);
    add(text);
    expect(takesOf()).toEqual([2]);
  });

  test.each([
    ['another chord', NEW],
    ['a bar more', OLD.replace('| Dm7', '| Dm7 | Dm7')],
    ['another meter', OLD.replace('4/4', '3/4')],
    ['a palette', OLD.replace('G7', 'G7<C lydian>')],
    ['a bass', OLD.replace('G7', 'G7/F')],
  ])('%s begins a new one, and the old one stands before it', (_what, text) => {
    const { database, library, add, takesOf } = opened();
    library.saveChart('pier', 'Pier', OLD, NOW_MS);
    add(OLD, 2);
    add(OLD, 2);
    library.saveChart('pier', 'Pier', text, NOW_MS);
    expect(takesOf()).toEqual([]);
    add(text);
    expect(takesOf()).toEqual([1]);
    expect(createHistory(database).before()).toMatchObject([{ takeCount: 2 }]);
  });

  test('of a chart that is not kept here the form played last counts', () => {
    const { add, takesOf } = opened();
    add(OLD, 3);
    add(OLD, 3);
    add(NEW, 2);
    expect(takesOf()).toEqual([1]);
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
