/**
 * A library that is damaged: recognised before anything is written to it, readable as far as it can be read, replaced
 * by the newest sound backup or an empty library, and never deleted. Asked through the services, as the page does.
 */

import {
  copyFileSync,
  cpSync,
  existsSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { unzipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import type {} from '../../../../shared/bridge/index.ts';
import { openProgram, type Program } from '../../../../src/main/open-program.ts';
import { openLibrary } from '../../../../src/main/store/index.ts';
import { ask } from '../../../helpers/ask.ts';
import { fill, newFolder } from '../../../helpers/library.ts';

const sharedFolder = join(import.meta.dirname, '..', '..', '..', '..', 'shared');
const PAGE_BYTES = 4096;
const TAKES = 60;

function start(dataFolder: string): Program {
  const program = openProgram({
    dataFolder,
    sharedFolder,
    host: 'browser',
    version: '1.2.3',
    push: () => {},
  });
  if (program === null) throw new Error('the folder is locked');
  return program;
}

/** A data folder with a library of `TAKES` takes, and as many backups as wanted. */
async function folderWithBackups(backups: number): Promise<string> {
  const made = filled.get(backups) ?? makeFilled(backups);
  filled.set(backups, made);
  const folder = newFolder();
  cpSync(await made, folder, { recursive: true });
  return folder;
}

/** Made once, by how many backups are in it, and copied for each test. */
const filled = new Map<number, Promise<string>>();

async function makeFilled(backups: number): Promise<string> {
  const folder = newFolder();
  const database = openLibrary(join(folder, 'library.sqlite'));
  fill(database, TAKES);
  database.close();
  const program = start(folder);
  for (let made = 0; made < backups; made++) await ask(program, 'library.backup', {});
  await program.close();
  if (backups === 0) rmSync(join(folder, 'backups'), { recursive: true, force: true });
  return folder;
}

/** Puts the database of another program in the place of a file. */
function foreign(file: string, ...pragmas: readonly string[]): void {
  rmSync(file);
  const database = new DatabaseSync(file);
  database.exec(`CREATE TABLE letters (text); ${pragmas.join('; ')}`);
  database.close();
}

/** Overwrites pages, counted from 0, as a failing disk may. */
function spoil(file: string, ...pages: readonly number[]): Buffer {
  const bytes = readFileSync(file);
  for (const page of pages) bytes.fill(0xee, page * PAGE_BYTES, (page + 1) * PAGE_BYTES);
  writeFileSync(file, bytes);
  return bytes;
}

const library = (folder: string) => join(folder, 'library.sqlite');

function takesIn(program: Program) {
  return ask(program, 'takes.list', { chartId: null, limit: 1000 });
}

describe('is recognised', () => {
  test.each([
    ['with a page overwritten', (file: string) => void spoil(file, 9)],
    ['with its first page overwritten', (file: string) => void spoil(file, 0)],
    ['cut short', (file: string) => truncateSync(file, 5 * PAGE_BYTES)],
    ['emptied', (file: string) => truncateSync(file, 0)],
    ['gone', (file: string) => rmSync(file)],
    [
      'with something else in its place',
      (file: string) => writeFileSync(file, 'a letter to the landlord, '.repeat(40)),
    ],
    ['with the database of another program in its place', (file: string) => foreign(file)],
    [
      'with the database of another program that numbers its schema as well',
      (file: string) => foreign(file, 'PRAGMA user_version = 3'),
    ],
    [
      'with the database of another program that says whose it is',
      (file: string) => foreign(file, 'PRAGMA application_id = 7', 'CREATE TABLE takes (text)'),
    ],
  ])('%s, and not touched', async (_how, damage) => {
    const folder = await folderWithBackups(1);
    damage(library(folder));
    const before = existsSync(library(folder)) ? readFileSync(library(folder)) : null;
    const program = start(folder);
    expect(await ask(program, 'library.state', {})).toMatchObject({
      kind: 'damaged',
      folder,
      backup: { charts: 2, takes: TAKES + 1 },
      damagedBackups: 0,
    });
    const refused = await program.services('takes.list', { chartId: null, limit: 1 }, 'page');
    expect(refused).toMatchObject({ ok: false, refusal: { code: 'damaged' } });
    await program.close();
    expect(existsSync(library(folder)) ? readFileSync(library(folder)) : null).toEqual(before);
  });

  test('by its mark from now on, also one from before it was marked', async () => {
    const folder = await folderWithBackups(0);
    const mark = (): unknown => {
      const database = new DatabaseSync(library(folder));
      const found = database.prepare('PRAGMA application_id').get()?.['application_id'];
      database.exec('PRAGMA application_id = 0');
      database.close();
      return found;
    };
    expect(mark()).toBe(0x4c6b7072);
    await start(folder).close();
    expect(mark()).toBe(0x4c6b7072);
  });

  test('not when it is new or was merely never used', async () => {
    const folder = newFolder();
    const program = start(folder);
    expect(await ask(program, 'library.state', {})).toMatchObject({ kind: 'open', problem: null });
    await program.close();
  });
});

describe('is replaced', () => {
  test('by the newest backup that is sound; damaged ones are passed over', async () => {
    const folder = await folderWithBackups(1);
    const [sound = ''] = readdirSync(join(folder, 'backups'));
    writeFileSync(
      join(folder, 'backups', 'library-000009-20300101T000000Z.sqlite'),
      readFileSync(join(folder, 'backups', sound)),
    );
    spoil(join(folder, 'backups', 'library-000009-20300101T000000Z.sqlite'), 9);
    const damaged = spoil(library(folder), 9);
    const program = start(folder);
    expect(await ask(program, 'library.state', {})).toMatchObject({
      backup: { name: sound },
      damagedBackups: 1,
    });
    const name = 'library-000009-20300101T000000Z.sqlite';
    const spoilt = await program.services('library.restore', { name }, 'page');
    expect(spoilt).toMatchObject({ ok: false, refusal: { code: 'damaged' } });
    const { folder: aside } = await ask(program, 'library.restore', { name: sound });
    expect(await takesIn(program)).toHaveLength(TAKES + 1);
    expect(await ask(program, 'library.state', {})).toMatchObject({ kind: 'open' });
    await program.close();
    expect(readFileSync(join(folder, aside, 'library.sqlite'))).toEqual(damaged);
    const again = start(folder);
    expect(await takesIn(again)).toHaveLength(TAKES + 1);
    await again.close();
  });

  test('never by a backup of a newer program', async () => {
    const folder = await folderWithBackups(1);
    const [sound = ''] = readdirSync(join(folder, 'backups'));
    const newer = 'library-000009-20300101T000000Z.sqlite';
    copyFileSync(join(folder, 'backups', sound), join(folder, 'backups', newer));
    const database = new DatabaseSync(join(folder, 'backups', newer));
    database.exec('PRAGMA user_version = 999');
    database.close();
    const damaged = spoil(library(folder), 9);
    const program = start(folder);
    expect(await ask(program, 'library.state', {})).toMatchObject({ backup: { name: sound } });
    const refused = await program.services('library.restore', { name: newer }, 'page');
    expect(refused).toMatchObject({ ok: false, refusal: { code: 'notAllowed' } });
    expect(readFileSync(library(folder))).toEqual(damaged);
    await program.close();
  });

  test('by an empty library when that is chosen', async () => {
    const folder = await folderWithBackups(0);
    const damaged = spoil(library(folder), 9);
    const program = start(folder);
    expect(await ask(program, 'library.state', {})).toMatchObject({
      kind: 'damaged',
      backup: null,
    });
    const { folder: aside } = await ask(program, 'library.beginNew', {});
    expect(await takesIn(program)).toEqual([]);
    await program.close();
    expect(readFileSync(join(folder, aside, 'library.sqlite'))).toEqual(damaged);
  });

  test('never while it is sound, and never by a path', async () => {
    const folder = await folderWithBackups(1);
    const program = start(folder);
    expect(await program.services('library.beginNew', {}, 'page')).toMatchObject({
      refusal: { code: 'notAllowed' },
    });
    await program.close();
    spoil(library(folder), 9);
    const damaged = start(folder);
    expect(
      await damaged.services('library.restore', { name: '../library.sqlite' }, 'page'),
    ).toMatchObject({
      refusal: { code: 'notFound' },
    });
    await damaged.close();
  });
});

describe('is exported as far as it can be read', () => {
  async function exported(folder: string) {
    const program = start(folder);
    const { name, bytes, ...told } = await ask(program, 'archive.export', {});
    const file = readFileSync(join(folder, 'transfer', name));
    expect(file).toHaveLength(bytes);
    await program.close();
    return { ...told, paths: Object.keys(unzipSync(file)) };
  }

  /** The pages of a table, by the database's own account. */
  function leafPages(folder: string, table: string) {
    const database = openLibrary(library(folder));
    const pages = database
      .prepare(
        "SELECT pageno - 1 AS page, ncell FROM dbstat WHERE name = ? AND pagetype = 'leaf' ORDER BY pageno",
      )
      .all(table)
      .map((row) => ({ page: Number(row['page']), rows: Number(row['ncell']) }));
    database.close();
    return pages;
  }

  test('takes on a page that is gone are missing and counted, all others are there', async () => {
    const folder = await folderWithBackups(0);
    const leaves = leafPages(folder, 'takes');
    expect(leaves.length).toBeGreaterThan(5);
    const spoilt = [leaves[1], leaves[Math.floor(leaves.length / 2)]].filter(
      (leaf) => leaf !== undefined,
    );
    spoil(library(folder), ...spoilt.map(({ page }) => page));
    const { takes, charts, unread, paths } = await exported(folder);
    expect(charts).toBe(2);
    // One of the rows is that of a take which was deleted: it is not exported anyway.
    expect(takes + unread.length).toBe(TAKES + 1);
    expect(unread).toHaveLength(spoilt.reduce((rows, leaf) => rows + leaf.rows, 0));
    expect(unread.every(({ kind }) => kind === 'take')).toBe(true);
    expect(
      paths.filter((path) => path.endsWith('.json') && path.startsWith('takes/')),
    ).toHaveLength(takes);
  });

  test('of a take whose events are half gone the first ones are there', async () => {
    const folder = await folderWithBackups(0);
    const leaves = leafPages(folder, 'take_chunks');
    spoil(library(folder), leaves[2]?.page ?? 0);
    const { takes, unread } = await exported(folder);
    expect(takes).toBe(TAKES + 1);
    expect(unread.some(({ kind }) => kind === 'takePart')).toBe(true);
  });

  test('what is no database at all is told so', async () => {
    const folder = await folderWithBackups(0);
    spoil(library(folder), 0);
    const program = start(folder);
    expect(await program.services('archive.export', {}, 'page')).toMatchObject({
      ok: false,
      refusal: { code: 'damaged' },
    });
    await program.close();
  });
});
