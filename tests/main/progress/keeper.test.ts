/** What is kept for the next start follows what is played, without anybody waiting for it. */

import type { DatabaseSync } from 'node:sqlite';
import { expect, test, vi } from 'vitest';
import type { TakeFigures } from '../../../shared/bridge/index.ts';
import { createHistory, createKeeper } from '../../../src/main/progress/index.ts';
import {
  createHistoryMonths,
  createTakeStore,
  openLibrary,
} from '../../../src/main/store/index.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const NOW_MS = Date.UTC(2026, 5, 1, 18);
const DAY_MS = 86_400_000;
const NOW = { nowMs: NOW_MS, utcOffsetMinutes: 0 };

const FIGURES: TakeFigures = {
  ...{
    slots: 64,
    clean: 60,
    changesCounted: 2,
    changesOnTime: 2,
    changesUnproven: 0,
    changesLeftOut: 0,
  },
  evidence: { choruses: 2, bars: [{ bar: 1, slots: 64, clean: 60 }], lateChanges: [], chords: [] },
};

function filled() {
  const database = openLibrary(':memory:');
  const takes = createTakeStore(database);
  const add = (daysAgo: number): string =>
    takes.add(setUpFor('pier'), NOW_MS - daysAgo * DAY_MS, [], 60_000, FIGURES);
  const ids = Array.from({ length: 20 }, (_, index) => add(index * 5));
  return { database, takes, add, ids };
}

/** Months without a piece, and the takes that the past of the one practice has; null where none is kept. The latest month began 25 days ago. */
function keptOf(database: DatabaseSync) {
  const empty = 'SELECT COUNT(*) AS months FROM history_months WHERE bytes IS NULL';
  const [practice] = createHistory(database).practices(NOW).values();
  return [
    Number(database.prepare(empty).get()?.['months']),
    practice?.played.past?.takeCount ?? null,
  ];
}

test('months and pasts are kept after what goes on, and again after every change', async () => {
  const { database, takes, add, ids } = filled();
  const history = createHistory(database);
  const first = Promise.withResolvers<void>();
  const keeper = createKeeper(history, () => NOW, first.promise);
  keeper.changed();
  keeper.changed();
  await new Promise((resolve) => setTimeout(resolve, 20));
  expect(keptOf(database)).toEqual([4, null]);
  first.resolve();
  await vi.waitFor(() => expect(keptOf(database)).toEqual([0, 14]));
  history.changed(add(0));
  keeper.changed();
  await vi.waitFor(() => expect(keptOf(database)).toEqual([0, 14]));
  takes.setDeleted(ids[10] ?? '', NOW_MS);
  history.changed(ids[10] ?? '');
  keeper.changed();
  expect(keptOf(database)).toEqual([1, null]);
  await vi.waitFor(() => expect(keptOf(database)).toEqual([0, 13]));
});

test('a month that changes while it is read is not kept as it was', () => {
  const { database, add } = filled();
  const months = createHistoryMonths(database, 'take_id', 'finished = 1');
  const [month = 0] = months.all();
  const before = months.begin(month);
  add(1);
  before.keep(new Uint8Array(40));
  expect(months.bytes(month)).toBeNull();
  // Whoever began before it keeps nothing either.
  const again = months.begin(month);
  before.keep(new Uint8Array(41));
  again.keep(new Uint8Array(42));
  expect(months.bytes(month)).toHaveLength(42);
});
