/**
 * The library of every released program is opened by this one with nothing lost. The fixtures were written once, by the
 * schema of their day; see `tests/fixtures/write-library.ts`.
 */

import { createHash } from 'node:crypto';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import { tellRefusal } from '../../../shared/refusal-words.ts';
import { oldLibraryName } from '../../../src/main/store/backups/keep-old.ts';
import { createLibrary, createTakeStore, openLibrary } from '../../../src/main/store/index.ts';
import { MIGRATIONS } from '../../../src/main/store/migrations.ts';
import {
  CHART,
  DEVICE,
  EVENTS,
  NOTE,
  SETTINGS,
  STARTED_AT_MS,
  TAGS,
  TAKE_ID,
} from '../../fixtures/fill-fixture.ts';
import { fixturePath } from '../../fixtures/write-library.ts';
import { newFolder, refusalFrom } from '../../helpers/library.ts';

const versions = Array.from({ length: MIGRATIONS.length }, (_, index) => index + 1).filter(
  (version) => existsSync(fixturePath(version)),
);

function libraryOf(version: number): string {
  const file = join(newFolder(), 'library.sqlite');
  const database = new DatabaseSync(file);
  database.exec(readFileSync(fixturePath(version), 'utf8'));
  database.close();
  return file;
}

/** Tables and indexes, in words that do not hang on how they came about. */
function schemaOf(database: DatabaseSync): readonly string[] {
  return database
    .prepare('SELECT type, name, sql FROM sqlite_master')
    .all()
    .map((row) => JSON.stringify(row).replace(/(\\n|\s)+/g, ' '))
    .sort();
}

test('every version before this one has its fixture', () => {
  for (let version = 1; version < MIGRATIONS.length; version++) {
    expect([version, existsSync(fixturePath(version))]).toEqual([version, true]);
  }
});

describe.each(versions)('a library of version %i', (version) => {
  test('is migrated with everything in it', () => {
    const database = openLibrary(libraryOf(version));
    expect(database.prepare('PRAGMA user_version').get()?.['user_version']).toBe(MIGRATIONS.length);
    const library = createLibrary(database);
    expect(library.charts()).toEqual([CHART]);
    expect(library.settings()).toEqual(SETTINGS);
    expect(library.devices()).toEqual([DEVICE]);
    expect(library.tags().get(CHART.chartId) ?? []).toEqual(version < 2 ? [] : TAGS);
    const takes = createTakeStore(database);
    expect(takes.list(null, 10).map(({ takeId, state }) => [takeId, state])).toEqual([
      ['unfinished', 'recording'],
      [TAKE_ID, 'finished'],
    ]);
    const { row, setUp, events } = takes.get(TAKE_ID);
    expect(events).toEqual(EVENTS);
    expect(setUp.chartId).toBe(CHART.chartId);
    expect(row).toMatchObject({
      note: NOTE,
      startedAtMs: STARTED_AT_MS,
      endMs: 1001.5,
      figures: { slots: 8, clean: 7, changesCounted: 2, changesOnTime: 1 },
    });
    expect(takes.get('unfinished').events).toEqual(EVENTS.slice(0, 4));
    takes.setDeleted('deleted', null);
    expect(takes.list(null, 10)).toHaveLength(3);
  });

  test('is kept as it was, for the program it comes from', () => {
    const file = libraryOf(version);
    const folder = join(file, '..', 'backups');
    // Killed on its way, the next start keeps it in the place of what was kept before.
    mkdirSync(folder);
    writeFileSync(join(folder, oldLibraryName(version)), 'half');
    openLibrary(file, folder).close();
    expect(readdirSync(folder)).toEqual([oldLibraryName(version)]);
    const kept = new DatabaseSync(join(folder, oldLibraryName(version)), { readOnly: true });
    expect(kept.prepare('PRAGMA user_version').get()?.['user_version']).toBe(version);
    const asItWas = new DatabaseSync(libraryOf(version));
    const takesIn = (database: DatabaseSync) => database.prepare('SELECT * FROM takes').all();
    expect(takesIn(kept)).toEqual(takesIn(asItWas));
    openLibrary(file, folder).close();
    expect(readdirSync(folder)).toHaveLength(1);
  });

  test('has the very schema of a new one afterwards', () => {
    const migrated = openLibrary(libraryOf(version));
    const fresh = openLibrary(join(newFolder(), 'library.sqlite'));
    expect(schemaOf(migrated)).toEqual(schemaOf(fresh));
  });
});

describe('a library of a newer program', () => {
  const hashOf = (file: string): string =>
    createHash('sha256').update(readFileSync(file)).digest('hex');

  function newer(): string {
    const file = libraryOf(1);
    const database = openLibrary(file);
    database.exec(`CREATE TABLE later (a TEXT); PRAGMA user_version = ${MIGRATIONS.length + 1}`);
    database.close();
    return file;
  }

  test('is refused politely, byte for byte what it was, and nothing appears beside it', async () => {
    const file = newer();
    const before = hashOf(file);
    const refusal = await refusalFrom(() => openLibrary(file));
    expect(refusal).toMatchObject({ code: 'notAllowed' });
    expect(tellRefusal(refusal).message).toContain(
      `schema ${MIGRATIONS.length + 1}, this one knows ${MIGRATIONS.length}`,
    );
    expect(tellRefusal(refusal).remedy).toMatch(/nothing was changed/);
    expect(hashOf(file)).toBe(before);
    expect(readdirSync(join(file, '..'))).toEqual(['library.sqlite']);
  });

  test('keeps the journal that its program left when it was killed', async () => {
    const file = newer();
    const killed = new DatabaseSync(file);
    killed.exec(
      "PRAGMA journal_mode = WAL; PRAGMA wal_autocheckpoint = 0; INSERT INTO later VALUES ('played last')",
    );
    const copy = join(newFolder(), 'library.sqlite');
    for (const ending of ['', '-wal']) copyFileSync(file + ending, copy + ending);
    killed.close();
    const before = [hashOf(copy), hashOf(`${copy}-wal`)];
    expect(await refusalFrom(() => openLibrary(copy))).toMatchObject({ code: 'notAllowed' });
    expect([hashOf(copy), hashOf(`${copy}-wal`)]).toEqual(before);
  });
});
