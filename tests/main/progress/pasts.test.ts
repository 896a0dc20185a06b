/** What is kept of the past from start to start says what the takes say, and is gone with whatever changes one of them. */

import type { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import type { TakeFigures } from '../../../shared/bridge/index.ts';
import { dueOf, noPast, pastUntil } from '../../../src/core/progress/index.ts';
import { createHistory } from '../../../src/main/progress/index.ts';
import { createTakeStore, openLibrary } from '../../../src/main/store/index.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const NOW_MS = Date.UTC(2026, 5, 1, 18);
const DAY_MS = 86_400_000;
const MONTH_DAYS = 30;
const KEYS = ['C', 'F', 'Bb'];

function figures(clean: number): TakeFigures {
  return {
    ...{ slots: 64, clean, changesCounted: 2, changesOnTime: 2 },
    evidence: {
      choruses: 2,
      bars: [{ bar: 1, slots: 64, clean }],
      lateChanges: [],
      chords: [],
    },
  };
}

/** Half a year of three practices. */
function filled() {
  const database = openLibrary(':memory:');
  const takes = createTakeStore(database, 'now');
  const add = (daysAgo: number, clean = 64, key = 'C'): string => {
    const base = setUpFor('pier');
    const tempo = { kind: 'steady', tempoBpm: 60 + (clean % 3) } as const;
    const setUp = { ...base, key, grade: { ...base.grade, tempo } };
    return takes.add(setUp, NOW_MS - daysAgo * DAY_MS, [], 60_000, figures(clean));
  };
  const ids = Array.from({ length: 60 }, (_, index) =>
    add(index * 3.1, 64 - ((index * 7) % 25), KEYS[index % KEYS.length]),
  );
  return { database, takes, add, ids };
}

/** A start of the program, which reads everything ahead. */
async function start(database: DatabaseSync, utcOffsetMinutes = 0): Promise<void> {
  const history = createHistory(database);
  await history.warmUp();
  await history.keepPasts(utcOffsetMinutes);
}

/** Of how many practices something is kept; each must be due as by its takes alone. */
function expectTrue(database: DatabaseSync, utcOffsetMinutes = 0): number {
  const history = createHistory(database);
  const pasts = [...history.practices().values()].map((takes) => {
    const past = history.past(takes, utcOffsetMinutes);
    const due = dueOf({ takes, past }, NOW_MS, utcOffsetMinutes);
    expect(due).not.toBeNull();
    expect(due).toEqual(dueOf({ takes: [...takes] }, NOW_MS, utcOffsetMinutes));
    return past;
  });
  return pasts.filter((past) => past !== null).length;
}

describe('what is kept of the past', () => {
  test('is what all takes before the latest month came to', async () => {
    const { database } = filled();
    expect(expectTrue(database)).toBe(0);
    await start(database);
    expect(expectTrue(database)).toBe(3);
    const history = createHistory(database);
    const untilDay = Math.floor(NOW_MS / DAY_MS / MONTH_DAYS) * MONTH_DAYS;
    for (const takes of history.practices().values()) {
      expect(history.past(takes, 0)).toEqual(pastUntil(untilDay, takes, noPast(0)));
      expect(history.past(takes, 0)?.days.before).not.toBeNull();
    }
  });

  test('is kept for each clock', async () => {
    const { database } = filled();
    await start(database, 60);
    expect([0, 60, 120].map((offset) => expectTrue(database, offset))).toEqual([0, 3, 0]);
    await start(database, 120);
    expect([0, 60, 120].map((offset) => expectTrue(database, offset))).toEqual([0, 3, 3]);
  });

  test('stays while the latest month is played in, and in the months after it', async () => {
    const { database, add } = filled();
    await start(database);
    add(0, 40);
    expect(expectTrue(database)).toBe(3);
    add(-35, 50, 'Eb');
    expect(expectTrue(database)).toBe(3);
    await start(database);
    expect(expectTrue(database)).toBe(4);
  });

  const changes: readonly (readonly [string, (library: ReturnType<typeof filled>) => void])[] = [
    ['a take is added', ({ add }) => add(100, 20)],
    ['a take is deleted', ({ takes, ids }) => takes.setDeleted(ids[30] ?? '', NOW_MS)],
    [
      'a take is finished with other figures',
      ({ takes, ids }) => takes.finish(ids[30] ?? '', 5, figures(3)),
    ],
    ['rows are removed', ({ database }) => database.exec('DELETE FROM takes WHERE rowid = 50')],
    [
      'a take is moved to another day',
      ({ database }) =>
        database.exec('UPDATE takes SET started_at_ms = started_at_ms - 9e9 WHERE rowid = 2'),
    ],
  ];

  test.each(changes)('is not used once, in an earlier month, %s', async (_, change) => {
    const library = filled();
    await start(library.database);
    change(library);
    expect(expectTrue(library.database)).toBe(0);
    // Its month is in one piece again, but another one.
    await createHistory(library.database).warmUp();
    expect(expectTrue(library.database)).toBe(0);
    await start(library.database);
    expect(expectTrue(library.database)).toBe(3);
  });

  test('is not used of a practice that has changed since it was read', async () => {
    const { database, add, takes, ids } = filled();
    await start(database);
    const history = createHistory(database);
    const kept = () =>
      [...history.practices().values()].filter((own) => history.past(own, 0) !== null).length;
    expect(kept()).toBe(3);
    history.changed(add(0, 64, 'F'));
    expect(kept()).toBe(2);
    takes.setDeleted(ids[45] ?? '', NOW_MS);
    history.changed(ids[45] ?? '');
    expect(kept()).toBe(1);
  });

  test('is told anew where it is damaged, or of other rules', async () => {
    for (const text of [
      '{',
      '{}',
      '{"rules":0,"practices":{}}',
      '{"rules":1,"practices":{"a":1}}',
    ]) {
      const { database } = filled();
      await start(database);
      database.prepare('UPDATE history_pasts SET pasts = ?').run(text);
      expect(expectTrue(database)).toBe(0);
      await start(database);
      expect(expectTrue(database)).toBe(3);
    }
  });

  test('is not kept of takes before 1970, which lie in no month of their own', async () => {
    const database = openLibrary(':memory:');
    const takes = createTakeStore(database, 'now');
    for (const atMs of [-DAY_MS, DAY_MS]) {
      takes.add(setUpFor('pier'), atMs, [], 60_000, figures(64));
    }
    await start(database);
    expect(expectTrue(database)).toBe(0);
  });

  test('keeps nobody from practising where it cannot be written', async () => {
    const { database } = filled();
    await createHistory(database).warmUp();
    database.exec('PRAGMA query_only = 1');
    await createHistory(database).keepPasts(0);
    expect(expectTrue(database)).toBe(0);
  });
});

/**
 * What a program of these rules has kept is gone on from by the next one. Where this test falls because a rule has changed, `RULES`
 * in `pasts.ts` is to be raised with the numbers here.
 */
test('the rules of the past are those it is kept by', async () => {
  const { database } = filled();
  await start(database);
  const { pasts } = database.prepare('SELECT pasts FROM history_pasts').get() ?? {};
  expect(JSON.parse(String(pasts))).toEqual({
    rules: 1,
    practices: {
      '["pier","plain","C","steps"]': {
        heldBpm: 62,
        before: [20568, 32.9489829, 9.88530673],
        last: [20577, 'hard'],
      },
      '["pier","plain","F","steps"]': {
        heldBpm: 62,
        before: [20565, 114.01070612, 9.78616105],
        last: [20574, 'hard'],
      },
      '["pier","plain","Bb","steps"]': {
        heldBpm: 62,
        before: [20562, 1.57387373, 9.95902172],
        last: [20571, 'good'],
      },
    },
  });
});
