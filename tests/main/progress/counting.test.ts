/** Takes counted in the background, after an update or anew: how far it is, that it ends, and what stops it for a while. */

import { expect, test } from 'vitest';
import { createCounting } from '../../../src/main/progress/index.ts';
import { createTakeFacts, createTakeStore, openLibrary } from '../../../src/main/store/index.ts';
import { eventsOf, FIGURES } from '../../helpers/library.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const TAKES = 50;

function filled() {
  const database = openLibrary(':memory:');
  const store = createTakeStore(database);
  for (let take = 0; take < TAKES; take++) {
    store.add(setUpFor(), 1000 * take, eventsOf(1), 500, {
      ...FIGURES,
      evidence: { choruses: 1, bars: [], lateChanges: [] },
    });
  }
  return database;
}

test('all are counted, what is told on the way never goes back, and the end is told once', async () => {
  const database = filled();
  const told: (number | null)[] = [];
  let ends = 0;
  const tell = () => void told.push(counting.state()?.done ?? null);
  const counting = createCounting(database, tell, () => ends++);
  expect(counting.state()).toBeNull();
  await counting.run();
  expect([told, ends]).toEqual([[], 0]);
  createTakeFacts(database).forgetAll();
  expect(counting.state()).toEqual({ done: 0, of: TAKES, problem: null });
  await counting.run();
  expect(told.at(-1)).toBeNull();
  expect(told.slice(0, -1)).toEqual(told.slice(0, -1).toSorted());
  expect([counting.state(), ends, createTakeFacts(database).made()]).toEqual([null, 1, TAKES]);
});

test('a disk that is full is told, and waited for', async () => {
  const database = filled();
  createTakeFacts(database).forgetAll();
  database.exec('PRAGMA query_only = ON');
  const problems: unknown[] = [];
  const counting = createCounting(
    database,
    () => {
      problems.push(counting.state()?.problem ?? null);
      database.exec('PRAGMA query_only = OFF');
    },
    () => {},
    5,
  );
  await counting.run();
  expect(problems[0]).toMatchObject({ why: { kind: 'system', cause: 'databaseReadOnly' } });
  expect(counting.state()).toBeNull();
});

test('a library that is closed meanwhile ends it', async () => {
  const database = filled();
  createTakeFacts(database).forgetAll();
  const counting = createCounting(
    database,
    () => {},
    () => {},
  );
  const running = counting.run();
  database.close();
  await running;
});
