/** What is kept of the past from start to start says what the takes say, and is gone with whatever changes one of them. */

import type { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import type { TakeFigures } from '../../../shared/bridge/index.ts';
import {
  dueOf,
  isSamePractice,
  pastUntil,
  practiceId,
  practiceOf,
} from '../../../src/core/progress/index.ts';
import { createHistory } from '../../../src/main/progress/index.ts';
import { createTakeStore, openLibrary } from '../../../src/main/store/index.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const NOW_MS = Date.UTC(2026, 5, 1, 18);
const DAY_MS = 86_400_000;
const MONTH_DAYS = 30;
const KEYS = ['C', 'F', 'Bb'];

function figures(clean: number): TakeFigures {
  return {
    ...{
      slots: 64,
      clean,
      changesCounted: 2,
      changesOnTime: 2,
      changesUnproven: 0,
      changesLeftOut: 0,
    },
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
  const takes = createTakeStore(database);
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
async function start(database: DatabaseSync, utcOffsetMinutes = 0, nowMs = NOW_MS): Promise<void> {
  const history = createHistory(database);
  await history.warmUp();
  await history.keepPasts({ nowMs, utcOffsetMinutes });
}

/** Of how many practices something is kept; of each the same must be told as from its takes alone. */
function expectTrue(
  database: DatabaseSync,
  utcOffsetMinutes = 0,
  nowMs = NOW_MS,
  history = createHistory(database),
): number {
  const practices = [...history.practices({ nowMs, utcOffsetMinutes }).values()];
  const all = history.whole(() => true).toArray();
  expect(new Set(practices.map(({ name }) => practiceId(name)))).toEqual(
    new Set(all.map(practiceId)),
  );
  for (const { name, played } of practices) {
    const takes = all.filter((take) => isSamePractice(take, name));
    const own = { past: null, takes };
    const told = practiceOf(name, played, nowMs);
    const alone = practiceOf(name, own, nowMs);
    const dues = [told, alone].map(
      (one) => one && dueOf({ ...one, hasGoalHeld: true }, nowMs, utcOffsetMinutes),
    );
    expect(dues[0]).not.toBeNull();
    expect(dues[0]).toEqual(dues[1]);
    expect(told).toEqual({ ...alone, played });
  }
  return practices.filter(({ played }) => played.past !== null).length;
}

describe('what is kept of the past', () => {
  test('is what all takes before the latest month came to', async () => {
    const { database } = filled();
    expect(expectTrue(database)).toBe(0);
    await start(database);
    expect(expectTrue(database)).toBe(3);
    const history = createHistory(database);
    const untilDay = Math.floor(NOW_MS / DAY_MS / MONTH_DAYS) * MONTH_DAYS;
    for (const { name, played } of history
      .practices({ nowMs: NOW_MS, utcOffsetMinutes: 0 })
      .values()) {
      const takes = history.whole((other) => isSamePractice(other, name)).toArray();
      expect(played.past).toEqual(pastUntil(untilDay, { past: null, takes }, 0));
      expect(played.past?.days.before).not.toBeNull();
      expect(played.takes.length).toBeLessThan(takes.length);
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
    const laterMs = NOW_MS + 36 * DAY_MS;
    expect(expectTrue(database, 0, laterMs)).toBe(3);
    add(-70, 60);
    const latestMs = NOW_MS + 71 * DAY_MS;
    await start(database, 0, latestMs);
    expect(expectTrue(database, 0, latestMs)).toBe(4);
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

  test('stays with what is played since it was read, and goes with a change before it', async () => {
    const { database, add, takes, ids } = filled();
    await start(database);
    const history = createHistory(database);
    const at = { nowMs: NOW_MS, utcOffsetMinutes: 0 };
    const before = history.practices(at);
    expect(expectTrue(database, 0, NOW_MS, history)).toBe(3);
    history.changed(add(0, 64, 'F'));
    expect(expectTrue(database, 0, NOW_MS, history)).toBe(3);
    const same = [...history.practices(at)].filter(([id, own]) => before.get(id) === own);
    expect(same.map(([, { name }]) => name.key).sort()).toEqual(['Bb', 'C']);
    takes.setDeleted(ids[45] ?? '', NOW_MS);
    history.changed(ids[45] ?? '');
    expect(expectTrue(database, 0, NOW_MS, history)).toBe(0);
    // As it is done after every change.
    await history.warmUp();
    await history.keepPasts(at);
    history.forget();
    expect(expectTrue(database, 0, NOW_MS, history)).toBe(3);
  });

  test('is not used by a clock that was set back before it', async () => {
    const { database } = filled();
    await start(database);
    const history = createHistory(database);
    expect(expectTrue(database, 0, NOW_MS, history)).toBe(3);
    expect(expectTrue(database, 0, NOW_MS - 35 * DAY_MS, history)).toBe(0);
  });

  test('is told anew where it is damaged, or of other rules', async () => {
    for (const text of ['{', '{}', '{"rules":2,"practices":[]}', '{"rules":3,"practices":[1]}']) {
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
    const takes = createTakeStore(database);
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
    await createHistory(database).keepPasts({ nowMs: NOW_MS, utcOffsetMinutes: 0 });
    expect(expectTrue(database)).toBe(0);
  });
});

/**
 * What a program of these rules has kept is gone on from by the next one. Where this test falls because a rule has changed, `RULES`
 * in `pasts.ts` is to be raised with the numbers here.
 */
test('the rules of the past are those it is kept by', async () => {
  const { database, ids } = filled();
  await start(database);
  const { pasts } = database.prepare('SELECT pasts FROM history_pasts').get() ?? {};
  const told = z.object({ rules: z.number(), practices: z.array(z.unknown()) });
  const { rules, practices } = told.parse(JSON.parse(String(pasts)));
  expect(rules).toBe(3);
  const inC = { name: ['pier', 'plain', 'C', 'steps'], takeCount: 17, heldBpm: 62 };
  expect(practices).toMatchObject([
    {
      ...inC,
      ...{ last: [ids[9], 'Pier', 60, 1777926240000], onceHeldBpm: null },
      ...{ before: [20568, 29.43530458, 9.90548377], rated: [20577, 'hard'] },
    },
    {
      ...{ ...inC, name: ['pier', 'plain', 'F', 'steps'] },
      ...{ last: [ids[10], 'Pier', 62, 1777658400000], onceHeldBpm: null },
      ...{ before: [20565, 96.22395833, 9.85963362], rated: [20574, 'hard'] },
    },
    {
      ...{ ...inC, name: ['pier', 'plain', 'Bb', 'steps'] },
      ...{ last: [ids[11], 'Pier', 62, 1777390560000], onceHeldBpm: null },
      ...{ before: [20562, 1.54450238, 9.96199118], rated: [20571, 'good'] },
    },
  ]);
});
