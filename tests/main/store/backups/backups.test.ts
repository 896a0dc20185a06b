/** Backups on real files: whole, checked, made while the library is in use, and no reason for the program to stop. */

import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { expect, test } from 'vitest';
import {
  createBackups,
  createTakeStore,
  openLibrary,
  readContents,
} from '../../../../src/main/store/index.ts';
import { eventsOf, fill, newFolder } from '../../../helpers/library.ts';
import { setUpFor } from '../../../helpers/set-up.ts';

const DAY_MS = 86_400_000;

function newLibrary(takes: number) {
  const folder = newFolder();
  const database = openLibrary(join(folder, 'library.sqlite'));
  fill(database, takes);
  let nowMs = Date.UTC(2026, 2, 14, 9);
  let changes = 0;
  const backups = createBackups(
    database,
    join(folder, 'backups'),
    () => nowMs,
    () => changes++,
  );
  const names = () => readdirSync(join(folder, 'backups'));
  const pass = (ms: number) => {
    nowMs += ms;
  };
  return { folder, database, backups, names, pass, changes: () => changes };
}

/** All that is in a library file. */
function contentsOf(file: string) {
  const database = openLibrary(file);
  const contents = readContents(database);
  const all = {
    charts: contents.charts(),
    tags: contents.tags(),
    remarks: contents.remarks(),
    melodies: contents.melodies(),
    settings: contents.settings(),
    devices: contents.devices(),
    takes: contents.takeRows().map((row) => contents.take(row)),
  };
  database.close();
  return all;
}

test('a backup is one file with all that is in the library', async () => {
  const { folder, database, backups, names } = newLibrary(20);
  expect(await backups.make()).toBe(true);
  expect(names()).toEqual(['library-000001-20260314T090000Z.sqlite']);
  const backup = join(folder, 'backups', names()[0] ?? '');
  const bytes = readFileSync(backup);
  database.close();
  expect(contentsOf(backup)).toEqual(contentsOf(join(folder, 'library.sqlite')));
  expect(bytes.subarray(0, 15).toString()).toBe('SQLite format 3');
});

test('a take goes on being stored while a backup is made, and the backup is whole', async () => {
  const { folder, database, backups, names } = newLibrary(60);
  const takes = createTakeStore(database);
  const takeId = takes.begin(setUpFor(), 1);
  const making = backups.make();
  let stored = 0;
  let isMade = false;
  void making.then(() => {
    isMade = true;
  });
  while (!isMade) {
    stored = takes.append(takeId, stored, eventsOf(1, 5)).stored;
    await new Promise((resolve) => setImmediate(resolve));
  }
  expect(stored).toBeGreaterThan(10);
  expect(takes.get(takeId).events).toHaveLength(stored);
  const copy = contentsOf(join(folder, 'backups', names()[0] ?? ''));
  expect(copy.takes.length).toBeGreaterThanOrEqual(61);
});

test('one is made a day after the last, and when something was changed since', async () => {
  const { database, backups, names, pass, changes } = newLibrary(2);
  await backups.makeWhenDue();
  pass(DAY_MS - 1);
  await backups.makeWhenDue();
  await backups.makeWhenChanged();
  expect(changes()).toBe(1);
  pass(1);
  await backups.makeWhenDue();
  expect(changes()).toBe(2);
  createTakeStore(database).begin(setUpFor(), 1);
  await backups.makeWhenChanged();
  await backups.makeWhenChanged();
  expect(changes()).toBe(3);
  expect(names()).toEqual([
    'library-000001-20260314T090000Z.sqlite',
    'library-000003-20260315T090000Z.sqlite',
  ]);
});

test('one that cannot be made is told, with what to do, and the next one that can clears it', async () => {
  const { folder, backups, changes } = newLibrary(2);
  const blocked = join(folder, 'backups');
  writeFileSync(blocked, 'a file in the place of the folder');
  expect(await backups.makeWhenDue()).toBe(false);
  expect(changes()).toBe(1);
  expect(backups.problem()?.why).toMatchObject({ kind: 'backupFailed', folder: blocked });
  rmSync(blocked);
  expect(await backups.makeWhenDue()).toBe(true);
  expect(backups.problem()).toBeNull();
});

test('what a killed program left half written is removed and never listed', async () => {
  const { folder, backups, names } = newLibrary(2);
  mkdirSync(join(folder, 'backups'));
  writeFileSync(join(folder, 'backups', 'unfinished'), 'half');
  writeFileSync(join(folder, 'backups', 'unfinished-journal'), 'half');
  expect(backups.list()).toEqual([]);
  await backups.makeWhenDue();
  expect(names()).toHaveLength(1);
  expect(backups.list()).toHaveLength(1);
});

test('files that are no backups are left where they are', async () => {
  const { folder, backups, names, pass } = newLibrary(1);
  mkdirSync(join(folder, 'backups'));
  writeFileSync(join(folder, 'backups', 'my own copy.sqlite'), 'mine');
  for (let day = 0; day < 40; day++) {
    await backups.makeWhenDue();
    pass(DAY_MS);
  }
  expect(names()).toContain('my own copy.sqlite');
  expect(names().length).toBeLessThan(16);
});

test('a copy that is not sound gets no name', async () => {
  const { folder, database, names } = newLibrary(40);
  database.close();
  const file = join(folder, 'library.sqlite');
  const bytes = readFileSync(file);
  bytes.fill(0xee, 3 * 4096, 6 * 4096);
  writeFileSync(file, bytes);
  const damaged = new DatabaseSync(file);
  const backups = createBackups(damaged, join(folder, 'backups'), Date.now, () => {});
  expect(await backups.make()).toBe(false);
  expect(backups.problem()).toMatchObject({ code: 'damaged' });
  expect(names()).toEqual([]);
  damaged.close();
});
