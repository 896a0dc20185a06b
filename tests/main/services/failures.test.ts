/** What a failing disk or library becomes on its way to the page: a value with what happened and what to do. */

import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import type { Push } from '../../../shared/bridge/index.ts';
import { tellRefusal } from '../../../shared/refusal-words.ts';
import { createTransfer } from '../../../src/main/archive/index.ts';
import { createServices, readShipped } from '../../../src/main/services/index.ts';
import {
  createBackups,
  createLibrary,
  createTakeStore,
  openLibrary,
  refusalOf,
  watchFile,
} from '../../../src/main/store/index.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const shipped = readShipped(join(import.meta.dirname, '..', '..', '..', 'shared'));

function openServices() {
  const file = join(mkdtempSync(join(tmpdir(), 'services-')), 'library.sqlite');
  const database: DatabaseSync = openLibrary(file);
  const pushes: Push[] = [];
  const served = createServices({
    library: createLibrary(database),
    takes: createTakeStore(database),
    shipped,
    host: 'browser',
    version: '1.2.3',
    backups: createBackups(
      database,
      join(dirname(file), 'backups'),
      () => 1000,
      () => {},
    ),
    database,
    transfer: createTransfer(join(dirname(file), 'transfer')),
    dataFolder: dirname(file),
    requireFile: watchFile(file),
    notices: [],
    nowMs: () => 1000,
    push: (push) => pushes.push(push),
  });
  const services = (name: string, request: unknown) => served.services(name, request, 'page');
  return { database, services, pushes };
}

function note(atMs: number) {
  return { kind: 'noteOn', atMs, midi: 60, velocity: 80 };
}

describe('a take that is being played', () => {
  test('waits for room on a full disk, and loses nothing that was stored', async () => {
    const { database, services } = openServices();
    const { value } = (await services('takes.begin', { setUp: setUpFor(), sources: [] })) as {
      value: { takeId: string };
    };
    const { takeId } = value;
    await services('takes.append', { takeId, from: 0, events: [note(1)], sources: [], breaks: [] });
    const pages = Number(database.prepare('PRAGMA page_count').get()?.['page_count']);
    database.exec(`PRAGMA max_page_count = ${pages}`);
    const many = Array.from({ length: 9000 }, (_, index) => note(index * 1000));
    const full = await services('takes.append', {
      takeId,
      from: 1,
      events: many,
      sources: [],
      breaks: [],
    });
    expect(full).toMatchObject({ ok: false, refusal: { code: 'diskFull' } });
    expect(await services('takes.get', { takeId })).toMatchObject({ value: { events: [note(1)] } });
    database.exec('PRAGMA max_page_count = 1000000');
    expect(
      await services('takes.append', { takeId, from: 1, events: many, sources: [], breaks: [] }),
    ).toMatchObject({
      value: { stored: 9001 },
    });
  });

  test('stays in the journal when it cannot be finished', async () => {
    const { database, services, pushes } = openServices();
    const { value } = (await services('takes.begin', { setUp: setUpFor(), sources: [] })) as {
      value: { takeId: string };
    };
    const { takeId } = value;
    await services('takes.append', { takeId, from: 0, events: [note(1)], sources: [], breaks: [] });
    database.exec('PRAGMA query_only = ON');
    const request = { takeId, endMs: 2 };
    expect(await services('takes.finish', request)).toMatchObject({
      ok: false,
      refusal: { code: 'readOnly' },
    });
    expect(pushes).toEqual([{ kind: 'changed', what: 'takes' }]);
    expect(await services('takes.get', { takeId })).toMatchObject({
      value: { events: [note(1)], row: { state: 'recording' } },
    });
    database.exec('PRAGMA query_only = OFF');
    expect(await services('takes.finish', request)).toEqual({
      ok: true,
      value: { kept: true },
    });
  });
});

test('settings are saved together or not at all', async () => {
  const { database, services } = openServices();
  await services('settings.set', { values: { theme: 'light', clicks: 1 } });
  database.exec(
    "CREATE TRIGGER spoilt BEFORE UPDATE ON settings WHEN NEW.name = 'clicks' BEGIN SELECT RAISE(ABORT, 'no'); END",
  );
  expect((await services('settings.set', { values: { theme: 'dark', clicks: 2 } })).ok).toBe(false);
  expect(await services('settings.get', {})).toMatchObject({
    value: { theme: 'light', clicks: 1 },
  });
});

test('a name like an inherited member is a setting as any other', async () => {
  const { services } = openServices();
  const values = JSON.parse('{"constructor": 1, "toString": "x"}');
  expect(await services('settings.set', { values })).toMatchObject({ ok: true });
  expect(await services('settings.get', {})).toEqual({ ok: true, value: values });
});

test('a library whose pages are overwritten is told as damaged', () => {
  const file = join(mkdtempSync(join(tmpdir(), 'services-')), 'library.sqlite');
  const written = openLibrary(file);
  const takes = createTakeStore(written);
  for (let count = 0; count < 50; count++) takes.begin(setUpFor(), count);
  written.exec('PRAGMA wal_checkpoint(TRUNCATE)');
  const pages = Number(written.prepare('PRAGMA page_count').get()?.['page_count']);
  const header = written.prepare('PRAGMA page_size').get()?.['page_size'];
  written.close();
  const bytes = Buffer.alloc(pages * Number(header), 0xee);
  writeFileSync(file, bytes, { flag: 'r+' });
  const codes: string[] = [];
  try {
    openLibrary(file);
  } catch (error) {
    codes.push(refusalOf(error).code);
  }
  expect(codes).toEqual(['damaged']);
});

test.each([
  ['EACCES', 'notAllowed'],
  ['EROFS', 'readOnly'],
  ['ENOSPC', 'diskFull'],
  ['ECONNRESET', 'internal'],
])('the file system’s %s is told as %s', (code, told) => {
  const refusal = refusalOf(Object.assign(new Error(`${code}: open`), { code }));
  expect(refusal.code).toBe(told);
  expect(tellRefusal(refusal).remedy).not.toBe('');
});
