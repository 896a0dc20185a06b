/** What a disk, a folder or a clock can do to a library: each is told with place and remedy, and costs nothing stored. */

import { spawnSync } from 'node:child_process';
import {
  appendFileSync,
  chmodSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterAll, describe, expect, onTestFinished, test } from 'vitest';
import type {} from '../../../shared/bridge/index.ts';
import { hostNoticeWords } from '../../../shared/notice-words.ts';
import { tellRefusal } from '../../../shared/refusal-words.ts';
import { openProgram, type Program } from '../../../src/main/open-program.ts';
import {
  createTakeStore,
  LARGEST_SET_BACK_MS,
  openLibrary,
} from '../../../src/main/store/index.ts';
import { ask } from '../../helpers/ask.ts';
import { eventsOf, fill, newFolder } from '../../helpers/library.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const root = join(import.meta.dirname, '..', '..', '..');
const sharedFolder = join(root, 'shared');
const faults = join(root, 'tests', 'faults');
const HOUR_MS = 3_600_000;

function start(dataFolder: string, nowMs: () => number = Date.now): Program {
  const program = openProgram({
    dataFolder,
    sharedFolder,
    host: 'browser',
    version: '1.2.3',
    push: () => {},
    nowMs,
  });
  if (program === null) throw new Error('the folder is locked');
  onTestFinished(() => program.close());
  return program;
}

function run(script: string, ...args: readonly string[]) {
  const done = spawnSync(process.execPath, [join(faults, script), ...args], { encoding: 'utf8' });
  if (done.stdout === '') throw new Error(done.stderr);
  return JSON.parse(done.stdout);
}

/** Takes what room a disk has left. */
function fillTo(file: string): void {
  try {
    for (;;) appendFileSync(file, Buffer.alloc(1024));
  } catch (error) {
    if (!(error instanceof Error && 'code' in error && error.code === 'ENOSPC')) throw error;
  }
}

describe('a full disk', () => {
  const disk = newFolder();
  const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=1500k', 'tmpfs', disk]);
  const isSmall = mounted.status === 0;
  if (!isSmall)
    console.info('No small disk can be mounted here: only the limit of a file is tried.');
  afterAll(() => {
    if (isSmall) spawnSync('umount', [disk]);
  });

  test.skipIf(!isSmall)('is told, loses nothing that was stored, and waits for room', async () => {
    const ballast = join(disk, 'ballast');
    writeFileSync(ballast, Buffer.alloc(200_000));
    const program = start(disk);
    const { takeId } = await ask(program, 'takes.begin', { setUp: setUpFor(), sources: [] });
    let stored = 0;
    let refused: unknown = null;
    while (refused === null) {
      const events = eventsOf(stored, 200);
      const request = { takeId, from: stored, events, sources: [], breaks: [] };
      const answer = await program.services('takes.append', request, 'page');
      if (answer.ok) stored += 400;
      else refused = answer.refusal;
    }
    expect(refused).toMatchObject({
      code: 'diskFull',
      why: { kind: 'system', cause: 'databaseFull' },
    });
    expect(stored).toBeGreaterThan(0);
    expect((await ask(program, 'takes.get', { takeId })).events).toHaveLength(stored);

    const backup = await program.services('library.backup', {}, 'page');
    expect(backup).toMatchObject({ ok: false, refusal: { code: 'diskFull' } });
    expect(await ask(program, 'host.info', {})).toMatchObject({
      notices: [{ kind: 'backupFailed', why: { folder: join(disk, 'backups') } }],
    });
    // What was refused was larger than an export is, and may have left room for one.
    fillTo(join(disk, 'rest'));
    const exported = await program.services('archive.export', {}, 'page');
    expect(exported).toMatchObject({ ok: false, refusal: { code: 'diskFull' } });
    const finished = await program.services('takes.finish', { takeId, endMs: 1e6 }, 'page');
    expect(finished).toMatchObject({ ok: false, refusal: { code: 'diskFull' } });
    expect((await ask(program, 'takes.get', { takeId })).events).toHaveLength(stored);
    for (const folder of ['backups', 'transfer']) {
      const left = readdirSync(join(disk, folder)).filter((name) => name.startsWith('unfinished'));
      expect([folder, left]).toEqual([folder, []]);
    }

    rmSync(ballast);
    await ask(program, 'takes.append', {
      takeId,
      from: stored,
      events: eventsOf(stored, 200),
      sources: [],
      breaks: [],
    });
    expect((await ask(program, 'takes.get', { takeId })).events).toHaveLength(stored + 400);
    await ask(program, 'takes.finish', { takeId, endMs: 1e6 });
    const { row, events } = await ask(program, 'takes.get', { takeId });
    expect([row.state, events.length]).toEqual(['finished', stored + 400]);
  });

  test.skipIf(process.platform === 'win32')(
    'as a limit of one file is told, and what was stored is there',
    () => {
      const file = join(newFolder(), 'library.sqlite');
      const script = join(faults, 'fill-until-full.ts');
      // In blocks of 512 bytes. Source: POSIX, ulimit.
      const done = spawnSync(
        'sh',
        ['-c', `ulimit -f 800; exec "$0" "$1" "$2"`, process.execPath, script, file],
        { encoding: 'utf8' },
      );
      const { stored, refusal } = JSON.parse(done.stdout);
      expect(['diskFull', 'damaged']).toContain(refusal.code);
      expect(tellRefusal(refusal).message).toMatch(/disk/);
      expect(tellRefusal(refusal).remedy).not.toBe('');
      expect(stored).toBeGreaterThan(0);
      const database = openLibrary(file);
      expect(database.prepare('PRAGMA integrity_check').get()?.['integrity_check']).toBe('ok');
      const takes = createTakeStore(database);
      expect(takes.get(takes.list(null, 1)[0]?.takeId ?? '').events).toHaveLength(stored);
      database.close();
    },
  );
});

describe('rights that are missing', () => {
  /** A user without rights where we are the one with all; nobody else where we have few. */
  const user = process.getuid?.() === 0 ? ['65534'] : [];

  test.skipIf(process.platform === 'win32')('to a folder are told before anything starts', () => {
    const folder = newFolder();
    chmodSync(folder, 0o555);
    const { ok, refusal } = run('open-once.ts', folder, ...user);
    expect(ok).toBe(false);
    expect(refusal.code).toBe('notAllowed');
    expect(tellRefusal(refusal).message).toContain(folder);
    expect(tellRefusal(refusal).remedy).toMatch(/its folder exists and is yours/);
    expect(readdirSync(folder)).toEqual([]);
  });

  test.skipIf(process.platform === 'win32')(
    'to the library’s file are told before anything starts',
    () => {
      const folder = newFolder();
      openLibrary(join(folder, 'library.sqlite')).close();
      chmodSync(folder, 0o777);
      chmodSync(join(folder, 'library.sqlite'), 0o444);
      const before = readFileSync(join(folder, 'library.sqlite'));
      const { ok, refusal } = run('open-once.ts', folder, ...user);
      expect(ok).toBe(false);
      expect(refusal).toMatchObject({ code: 'readOnly' });
      expect(tellRefusal(refusal).message).toContain(folder);
      expect(tellRefusal(refusal).remedy).toMatch(/right to write/);
      expect(readFileSync(join(folder, 'library.sqlite'))).toEqual(before);
    },
  );

  test('to the data folder’s place, where a file lies, are told with the place', () => {
    const folder = join(newFolder(), 'data');
    writeFileSync(folder, 'a file');
    expect(() => start(folder)).toThrow(folder);
  });
});

describe('a folder that goes away while a take is played', () => {
  test('is told with its place; put back, everything goes on', async () => {
    const folder = join(newFolder(), 'data');
    const program = start(folder);
    const { takeId } = await ask(program, 'takes.begin', { setUp: setUpFor(), sources: [] });
    await ask(program, 'takes.append', {
      takeId,
      from: 0,
      events: eventsOf(1, 2),
      sources: [],
      breaks: [],
    });
    const request = { takeId, from: 4, events: eventsOf(2, 2), sources: [], breaks: [] };
    renameSync(folder, `${folder}-away`);
    const gone = await program.services('takes.append', request, 'page');
    expect(gone).toMatchObject({
      ok: false,
      refusal: { code: 'libraryGone', why: { kind: 'libraryGone' } },
    });
    expect(JSON.stringify(gone)).toContain(join(folder, 'library.sqlite'));
    expect(await program.services('library.backup', {}, 'page')).toMatchObject({ ok: false });
    expect(() => readdirSync(folder)).toThrow(/ENOENT/);
    renameSync(`${folder}-away`, folder);
    expect(await program.services('takes.append', request, 'page')).toEqual({
      ok: true,
      value: { stored: 8 },
    });
    expect((await ask(program, 'takes.get', { takeId })).events).toHaveLength(8);
  });

  test('and is another one when it comes back is not written to', async () => {
    const folder = join(newFolder(), 'data');
    const program = start(folder);
    renameSync(folder, `${folder}-away`);
    mkdirSync(folder);
    const other = new DatabaseSync(join(folder, 'library.sqlite'));
    other.exec('CREATE TABLE other (a TEXT)');
    other.close();
    const request = { setUp: setUpFor(), sources: [] };
    expect(await program.services('takes.begin', request, 'page')).toMatchObject({
      ok: false,
      refusal: { code: 'libraryGone' },
    });
    renameSync(folder, `${folder}-other`);
    renameSync(`${folder}-away`, folder);
  });
});

test('a page that is spoilt while the program runs is told, with what to do', async () => {
  const folder = newFolder();
  const database = openLibrary(join(folder, 'library.sqlite'));
  const ids = fill(database, 80);
  const leaf = database
    .prepare(
      "SELECT MIN(pageno) AS page FROM dbstat WHERE name = 'take_chunks' AND pagetype = 'leaf'",
    )
    .get();
  database.close();
  // A backup of just now: none is made at the start, which would read every page first.
  mkdirSync(join(folder, 'backups'));
  const stamp = new Date().toISOString().slice(0, 19).replace(/[-:]/g, '');
  writeFileSync(
    join(folder, 'backups', `library-000001-${stamp}Z.sqlite`),
    readFileSync(join(folder, 'library.sqlite')),
  );
  const program = start(folder);
  const page = Number(leaf?.['page']);
  const bytes = readFileSync(join(folder, 'library.sqlite'));
  writeFileSync(join(folder, 'library.sqlite'), bytes.fill(0xee, (page - 1) * 4096, page * 4096), {
    flag: 'r+',
  });
  const codes = new Set<string>();
  const remedies = new Set<string>();
  for (const takeId of ids) {
    const answer = await program.services('takes.get', { takeId }, 'page');
    codes.add(answer.ok ? 'ok' : answer.refusal.code);
    if (!answer.ok) remedies.add(tellRefusal(answer.refusal).remedy);
  }
  expect([...codes].sort()).toEqual(['damaged', 'ok']);
  expect([...remedies].join()).toMatch(/Start the program again: it offers to restore a backup/);
});

describe('a clock set back', () => {
  const NOW_MS = Date.UTC(2026, 2, 14, 20);

  test.each([
    ['by nothing at all', 0],
    ['by an hour', HOUR_MS],
    ['by a millisecond less than the largest', LARGEST_SET_BACK_MS - 1],
  ])('%s leaves takes in the order they were played in, each with its own id', (_by, setBackMs) => {
    const takes = createTakeStore(openLibrary(join(newFolder(), 'library.sqlite')));
    const ids = [0, setBackMs, setBackMs - 1, setBackMs - 2].map((back) =>
      takes.begin(setUpFor(), NOW_MS - back),
    );
    const listed = takes.list(null, 10);
    expect(listed.map(({ takeId }) => takeId)).toEqual([...ids].reverse());
    expect(new Set(ids).size).toBe(4);
    expect(listed.map(({ startedAtMs }) => startedAtMs - NOW_MS)).toEqual([3, 2, 1, 0]);
  });

  test('by far is followed, for the clock before may have been the wrong one, and told', async () => {
    const folder = newFolder();
    const database = openLibrary(join(folder, 'library.sqlite'));
    const takes = createTakeStore(database);
    takes.append(takes.begin(setUpFor(), NOW_MS), 0, eventsOf(1, 2));
    database.close();
    const nowMs = NOW_MS - LARGEST_SET_BACK_MS;
    const program = start(folder, () => nowMs);
    const { notices } = await ask(program, 'host.info', {});
    expect(notices.map(hostNoticeWords).join()).toMatch(
      /clock says 2026-03-12, but there is a take of 2026-03-14/,
    );
    await ask(program, 'takes.begin', { setUp: setUpFor(), sources: [] });
    const listed = await ask(program, 'takes.list', { chartId: null, limit: 5 });
    expect(listed.map(({ startedAtMs }) => startedAtMs)).toEqual([NOW_MS, nowMs]);
  });

  test('removes no backup', async () => {
    const folder = newFolder();
    let nowMs = NOW_MS;
    for (let day = 0; day < 3; day++) {
      const program = start(folder, () => nowMs);
      await ask(program, 'library.backup', {});
      await program.close();
      nowMs += 24 * HOUR_MS;
    }
    const before = readdirSync(join(folder, 'backups'));
    nowMs = Date.UTC(2001, 0, 1);
    const program = start(folder, () => nowMs);
    await ask(program, 'library.backup', {});
    expect(readdirSync(join(folder, 'backups'))).toEqual(expect.arrayContaining(before));
    expect(before).toHaveLength(3);
    const state = await ask(program, 'library.state', {});
    expect(state.kind === 'open' && state.backups[0]?.madeAtMs).toBe(nowMs);
  });
});
