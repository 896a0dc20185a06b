/** The library on real files: kept, migrated, refused, killed. Own rules: nothing stored is ever lost. */

import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import type { TakeEvent } from '../../../src/core/take/model.ts';
import {
  createLibrary,
  createTakeStore,
  openLibrary,
  StoreError,
} from '../../../src/main/store/index.ts';
import { MIGRATIONS } from '../../../src/main/store/migrations.ts';
import { migrate } from '../../../src/main/store/open-store.ts';
import { longTake } from '../../bench/long-take.ts';
import { MELODY } from '../../helpers/library.ts';
import { someOf } from '../../helpers/runs.ts';
import { setUpFor } from '../../helpers/set-up.ts';
import { MIGRATION_STEPS, ROWS_PER_STEP } from './migrate-until-killed.ts';

function newFile(): string {
  return join(mkdtempSync(join(tmpdir(), 'library-')), 'deep', 'library.sqlite');
}

function note(atMs: number): TakeEvent {
  return { kind: 'noteOn', atMs, midi: 60, velocity: 80 };
}

function codeOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof StoreError) return error.refusal.code;
    throw error;
  }
  return 'nothing thrown';
}

describe('melodies', () => {
  test('are kept beside their charts, also through deleting and back', () => {
    const library = createLibrary(openLibrary(newFile()));
    const charts = [
      { title: 'with', text: 'a', melody: MELODY },
      { title: 'without', text: 'b', melody: null },
    ];
    const [sung = '', silent = ''] = library.addCharts(charts, 1);
    expect([sung, silent].map(library.melody)).toEqual([MELODY, null]);
    library.saveChart(sung, 'with', 'changed', 2);
    library.setChartDeleted(sung, 3);
    library.setChartDeleted(sung, null);
    expect(library.melody(sung)).toEqual(MELODY);
    library.setMelody(sung, { ...MELODY, leadIn: 0 });
    expect(library.melody(sung)?.leadIn).toBe(0);
    library.setMelody(sung, null);
    expect(library.melody(sung)).toBeNull();
  });

  test('have a place in a library of the schema before them, whose charts stay', () => {
    const file = newFile();
    mkdirSync(dirname(file));
    const old = new DatabaseSync(file);
    migrate(old, 0, MIGRATIONS.slice(0, 2));
    old.exec("INSERT INTO charts VALUES ('pier', 'Pier', 'text', 1, NULL)");
    old.close();
    const library = createLibrary(openLibrary(file));
    library.setMelody('pier', MELODY);
    expect(library.charts()).toEqual([{ chartId: 'pier', title: 'Pier', text: 'text' }]);
    expect(library.melody('pier')).toEqual(MELODY);
  });
});

describe('takes', () => {
  test('a take is what was appended, in order, whatever was sent twice', () => {
    const takes = createTakeStore(openLibrary(newFile()));
    const takeId = takes.begin(setUpFor(), 1000);
    expect(takes.append(takeId, 0, [note(1), note(2)]).stored).toBe(2);
    expect(takes.append(takeId, 0, [note(1), note(2), note(3)]).stored).toBe(3);
    expect(takes.append(takeId, 3, [note(4)]).stored).toBe(4);
    expect(takes.get(takeId).events).toEqual([note(1), note(2), note(3), note(4)]);
    expect(takes.get(takeId).setUp).toEqual(setUpFor());
  });

  test('events that would leave a hole are refused', () => {
    const takes = createTakeStore(openLibrary(newFile()));
    const takeId = takes.begin(setUpFor(), 1000);
    expect(codeOf(() => takes.append(takeId, 1, [note(1)]))).toBe('badRequest');
    expect(codeOf(() => takes.append('nobody', 0, [note(1)]))).toBe('notFound');
  });

  test('a finished take is listed with its figures, newest first, a deleted one comes back', () => {
    const takes = createTakeStore(openLibrary(newFile()));
    const figures = {
      slots: 8,
      clean: 7,
      changesCounted: 2,
      changesOnTime: 1,
      changesUnproven: 0,
      changesLeftOut: 0,
      evidence: null,
    };
    const older = takes.begin(setUpFor('a'), 1000);
    const newer = takes.begin(setUpFor('b'), 2000);
    takes.finish(older, 4000, figures);
    expect(takes.list(null, 10).map(({ takeId, state }) => [takeId, state])).toEqual([
      [newer, 'recording'],
      [older, 'finished'],
    ]);
    expect(takes.list('a', 10)[0]).toMatchObject({ endMs: 4000, figures });
    takes.setDeleted(older, 1);
    expect(takes.list('a', 10)).toEqual([]);
    takes.setDeleted(older, null);
    expect(takes.list('a', 10)).toHaveLength(1);
    expect(takes.lastPlayed()).toEqual(
      new Map([
        ['a', 1000],
        ['b', 2000],
      ]),
    );
  });

  test('a finished take takes no more events, and one that was sent before is still recognised', () => {
    const takes = createTakeStore(openLibrary(newFile()));
    const takeId = takes.begin(setUpFor(), 1000);
    takes.append(takeId, 0, [note(1)]);
    takes.finish(takeId, 5, null);
    expect(takes.append(takeId, 0, [note(1)]).stored).toBe(1);
    expect(codeOf(() => takes.append(takeId, 1, [note(2)]))).toBe('notAllowed');
  });

  test('a take that was journalled note by note is stored in at most twelve bytes a note', () => {
    const database = openLibrary(newFile());
    const takes = createTakeStore(database);
    const takeId = takes.begin(setUpFor(), 1000);
    const { events } = longTake(500);
    events.forEach((event, index) => {
      takes.append(takeId, index, [event]);
    });
    const journalled = takes.get(takeId).events;
    takes.finish(takeId, 5, null);
    const stored = database
      .prepare('SELECT COUNT(*) AS chunks, SUM(LENGTH(bytes)) AS bytes FROM take_chunks')
      .get();
    const notes = events.filter(({ kind }) => kind === 'noteOn').length;
    expect(stored?.['chunks']).toBe(1);
    expect(Number(stored?.['bytes']) / notes).toBeLessThanOrEqual(12);
    expect(takes.get(takeId).events).toEqual(journalled);
    expect(journalled).toHaveLength(events.length);
  });

  test('a whole take is added or nothing of it', () => {
    const database = openLibrary(newFile());
    const takes = createTakeStore(database);
    database.exec(
      "CREATE TRIGGER full BEFORE INSERT ON take_chunks BEGIN SELECT RAISE(ABORT, 'no room'); END",
    );
    expect(() => takes.add(setUpFor(), 1000, [note(1)], 5, null)).toThrow(/no room/);
    expect(takes.list(null, 10)).toEqual([]);
    database.exec('DROP TRIGGER full');
    const takeId = takes.add(setUpFor(), 1000, [note(1)], 5, null);
    expect(takes.get(takeId)).toMatchObject({ events: [note(1)], row: { state: 'finished' } });
  });

  test('a damaged part is told and stays what it is when the take is finished', () => {
    const database = openLibrary(newFile());
    const takes = createTakeStore(database);
    const takeId = takes.begin(setUpFor(), 1000);
    takes.append(takeId, 0, [note(1)]);
    takes.append(takeId, 1, [note(2)]);
    database.exec("UPDATE take_chunks SET bytes = x'ff' WHERE from_event = 1");
    takes.finish(takeId, 5, null);
    expect(codeOf(() => takes.get(takeId))).toBe('damaged');
    const chunks = database.prepare('SELECT from_event FROM take_chunks').all();
    expect(chunks).toHaveLength(2);
  });

  test('a take the host finished is open again with what its page still had', () => {
    const takes = createTakeStore(openLibrary(newFile()));
    const takeId = takes.begin(setUpFor(), 1000);
    takes.append(takeId, 0, [note(1), note(900)]);
    expect(takes.unfinished()).toEqual([takeId]);
    takes.finish(takeId, 900, null, 'byHost');
    expect(takes.unfinished()).toEqual([]);
    expect(takes.append(takeId, 1, [note(900)])).toEqual({ stored: 2, state: 'finished' });
    expect(takes.append(takeId, 1, [note(900), note(950)])).toEqual({
      stored: 3,
      state: 'reopened',
    });
    expect(takes.list(null, 10)).toMatchObject([{ takeId, state: 'recording', endMs: 950 }]);
    expect(takes.get(takeId).events).toEqual([note(1), note(900), note(950)]);
  });

  test('a take in which nothing was played is hidden, and back with its first note', () => {
    const takes = createTakeStore(openLibrary(newFile()));
    const takeId = takes.begin(setUpFor(), 1000);
    takes.append(takeId, 0, [{ kind: 'pedal', atMs: 1, down: true }]);
    takes.hide(takeId, 5);
    expect(takes.list(null, 10)).toEqual([]);
    expect(takes.finishedAndDeleted()).toEqual([takeId]);
    takes.append(takeId, 1, [note(900)]);
    expect(takes.list(null, 10)).toMatchObject([{ takeId, state: 'recording' }]);
  });
});

describe('charts, settings, devices', () => {
  test('are kept over a restart', () => {
    const file = newFile();
    const device = {
      deviceName: 'Stage piano',
      outputName: 'speakers',
      latencyMs: 23,
      spreadMs: 4,
      splitMidi: 60,
      channel: null,
    };
    const first = createLibrary(openLibrary(file));
    const chartId = first.saveChart(null, 'Pier', 'title: Pier', 1);
    first.saveChart(chartId, 'Long Pier', 'title: Long Pier', 2);
    first.saveSettings({ theme: 'dark', breakMinutes: 20 });
    first.saveSettings({ theme: 'light' });
    first.saveDevice({ ...device, latencyMs: 1 });
    first.saveDevice(device);
    const second = createLibrary(openLibrary(file));
    expect(second.charts()).toEqual([{ chartId, title: 'Long Pier', text: 'title: Long Pier' }]);
    expect(second.settings()).toEqual({ theme: 'light', breakMinutes: 20 });
    expect(second.devices()).toEqual([device]);
  });

  test('a split and a channel hold with every output the keyboard is remembered with, and are let go with every one', () => {
    const library = createLibrary(openLibrary(':memory:'));
    const first = {
      ...{ deviceName: 'Stage piano', outputName: 'this computer', latencyMs: 12.5, spreadMs: 4 },
      ...{ splitMidi: null, channel: null },
    };
    const second = { ...first, outputName: 'Expander', latencyMs: 30 };
    const other = { ...first, deviceName: 'Other piano' };
    for (const device of [first, second, other]) library.saveDevice(device);
    library.saveDevice({ ...second, splitMidi: 60, channel: 3 });
    expect(library.devices()).toEqual([
      other,
      { ...second, splitMidi: 60, channel: 3 },
      { ...first, splitMidi: 60, channel: 3 },
    ]);
    library.saveDevice(first);
    expect(library.devices()).toEqual([other, second, first]);
  });

  test('a deleted chart comes back, one that never was is not found', () => {
    const library = createLibrary(openLibrary(newFile()));
    const chartId = library.saveChart(null, 'Pier', '', 1);
    library.setChartDeleted(chartId, 5);
    expect(library.charts()).toEqual([]);
    library.setChartDeleted(chartId, null);
    expect(library.charts()).toHaveLength(1);
    expect(codeOf(() => library.setChartDeleted('nobody', 5))).toBe('notFound');
  });
});

describe('the file', () => {
  test('of a newer program is refused and left as it is', () => {
    const file = newFile();
    openLibrary(file).close();
    const newer = new DatabaseSync(file);
    newer.exec('PRAGMA user_version = 999; PRAGMA wal_checkpoint(TRUNCATE)');
    newer.close();
    const before = readFileSync(file);
    expect(codeOf(() => openLibrary(file))).toBe('notAllowed');
    expect(readFileSync(file)).toEqual(before);
  });

  test('that is no library is refused and left as it is', () => {
    const file = join(mkdtempSync(join(tmpdir(), 'library-')), 'library.sqlite');
    writeFileSync(
      file,
      'a shopping list, long enough to be looked at as a header of a database file'.repeat(3),
    );
    const before = readFileSync(file);
    expect(codeOf(() => openLibrary(file))).toBe('damaged');
    expect(readFileSync(file)).toEqual(before);
  });

  test('a migration that fails leaves the version before it whole', () => {
    const database = openLibrary(newFile());
    const released = MIGRATIONS.length;
    const fails = 'CREATE TABLE extra (a TEXT) STRICT; CREATE TABLE extra (a TEXT) STRICT;';
    const broken = [...MIGRATIONS, fails];
    expect(() => migrate(database, released, broken)).toThrow(/already exists/);
    const tables = database.prepare("SELECT name FROM sqlite_master WHERE name = 'extra'").all();
    expect(tables).toEqual([]);
    expect(database.prepare('PRAGMA user_version').get()?.['user_version']).toBe(released);
  });
});

test('what append has answered for survives a kill at any moment', async () => {
  const script = join(import.meta.dirname, 'append-until-killed.ts');
  for (const round of someOf([0, 1, 2, 3, 4, 5, 6, 7], 3)) {
    const file = newFile();
    const child = spawn(process.execPath, [script, file], { stdio: ['ignore', 'pipe', 'inherit'] });
    let answered = 0;
    child.stdout.on('data', (data: Buffer) => {
      answered = Number(data.toString().trim().split('\n').at(-1));
      if (answered > 40 + 37 * round) child.kill('SIGKILL');
    });
    await new Promise((resolve) => child.on('close', resolve));
    const database = openLibrary(file);
    expect(database.prepare('PRAGMA integrity_check').get()?.['integrity_check']).toBe('ok');
    const takes = createTakeStore(database);
    const [row] = takes.list(null, 1);
    const { events } = takes.get(row?.takeId ?? '');
    expect(answered).toBeGreaterThan(40);
    expect(events.length).toBeGreaterThanOrEqual(answered);
    expect(events).toEqual(events.map((_, index) => note(index)));
    database.close();
  }
});

test('a program killed while it migrates leaves whole steps, and the next one goes on from there', async () => {
  const script = join(import.meta.dirname, 'migrate-until-killed.ts');
  const reached: number[] = [];
  for (let round = 0; round < 6; round++) {
    const file = join(mkdtempSync(join(tmpdir(), 'library-')), 'library.sqlite');
    const child = spawn(process.execPath, [script, file], { stdio: ['ignore', 'pipe', 'inherit'] });
    child.stdout.once('data', () => setTimeout(() => child.kill('SIGKILL'), 8 + 17 * round));
    await new Promise((resolve) => child.on('close', resolve));
    const database = new DatabaseSync(file);
    const version = Number(database.prepare('PRAGMA user_version').get()?.['user_version']);
    reached.push(version);
    const rowsOf = (): unknown[] =>
      database
        .prepare("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY rowid")
        .all()
        .map(
          ({ name }) => database.prepare(`SELECT COUNT(*) AS rows FROM ${name}`).get()?.['rows'],
        );
    expect(rowsOf()).toEqual(Array(version).fill(ROWS_PER_STEP));
    migrate(database, version, MIGRATION_STEPS);
    expect(rowsOf()).toEqual(Array(MIGRATION_STEPS.length).fill(ROWS_PER_STEP));
    database.close();
  }
  // At least one was killed on its way; else nothing was tried here.
  expect(reached.some((version) => version > 0 && version < MIGRATION_STEPS.length)).toBe(true);
});
