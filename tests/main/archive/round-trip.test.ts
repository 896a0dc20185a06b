/** The whole library out as an archive and in again. Own rules: nothing lost, nothing overwritten, all or nothing. */

import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import { unzipSync, zipSync } from 'fflate';
import { parseMidi } from 'midi-file';
import { describe, expect, test } from 'vitest';
import { mergedWords } from '../../../shared/notice-words.ts';
import { tellRefusal } from '../../../shared/refusal-words.ts';
import { decodeSmf, takeFromSmf } from '../../../src/core/take/smf/index.ts';
import { createTransfer, exportArchive, importArchive } from '../../../src/main/archive/index.ts';
import {
  createLibrary,
  createPracticeJournal,
  createTakeStore,
  openLibrary,
  readContents,
} from '../../../src/main/store/index.ts';
import { gradeStored } from '../../../src/main/takes/index.ts';
import {
  eventsOf,
  FIRST_START_MS,
  fill,
  MELODY,
  newFolder,
  refusalFrom,
} from '../../helpers/library.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const NOW_MS = Date.UTC(2026, 2, 14, 9, 26, 53);

function newLibrary(takes = 0): DatabaseSync {
  const database = openLibrary(join(newFolder(), 'library.sqlite'));
  if (takes > 0) fill(database, takes);
  return database;
}

type Files = Record<string, Uint8Array>;

async function exported(database: DatabaseSync): Promise<Files> {
  const folder = newFolder();
  const transfer = createTransfer(join(folder, 'transfer'));
  const { name } = await exportArchive(readContents(database), transfer, '1.2.3', NOW_MS);
  return unzipSync(readFileSync(join(folder, 'transfer', name)));
}

async function imported(database: DatabaseSync, files: Files) {
  const transfer = createTransfer(join(newFolder(), 'transfer'));
  transfer.put('one', 0, zipSync(files));
  return importArchive(database, transfer, 'one');
}

/** Every row of every table, in an order of their content. */
function rowsOf(database: DatabaseSync) {
  return [
    'charts',
    'takes',
    'take_chunks',
    'settings',
    'devices',
    'chart_tags',
    'session_remarks',
    'chart_melodies',
  ].map((table) =>
    database
      .prepare(`SELECT * FROM ${table}`)
      .all()
      .map((row) => JSON.stringify(row))
      .sort(),
  );
}

function json(files: Files, path: string) {
  return JSON.parse(new TextDecoder().decode(files[path]));
}

function withJson(
  files: Files,
  path: string,
  change: (data: ReturnType<typeof json>) => void,
): Files {
  const data = json(files, path);
  change(data);
  const manifest = json(files, 'manifest.json');
  delete manifest.sha256[path];
  const bytes = (value: unknown) => new TextEncoder().encode(JSON.stringify(value));
  return { ...files, 'manifest.json': bytes(manifest), [path]: bytes(data) };
}

const takePaths = (files: Files) =>
  Object.keys(files).filter((path) => /^takes\/.*json$/.test(path));

/** All that a program shows of a library. */
function shown(database: DatabaseSync) {
  const library = createLibrary(database);
  const takes = createTakeStore(database);
  const rows = takes.list(null, 10_000);
  return {
    charts: library.charts(),
    tags: library.tags(),
    settings: library.settings(),
    devices: library.devices(),
    takes: rows.map(({ takeId }) => takes.get(takeId)),
  };
}

/** Finishes what is open as the host does. */
function finishAll(database: DatabaseSync): void {
  const takes = createTakeStore(database);
  for (const takeId of takes.unfinished()) {
    const { setUp, row, ...played } = takes.get(takeId);
    const { figures } = gradeStored(setUp, { ...played, endMs: row.endMs }, null);
    takes.finish(takeId, row.endMs, figures, 'byHost');
  }
}

describe('an archive', () => {
  test('of a library, imported into an empty one, exports as the same files', async () => {
    const first = newLibrary(12);
    finishAll(first);
    const files = await exported(first);
    const second = newLibrary();
    const result = await imported(second, files);
    expect(result).toEqual({
      added: { charts: 2, takes: 13, settings: 2, devices: 1 },
      alreadyHere: { charts: 0, takes: 0, settings: 0, devices: 0 },
      told: [],
      untold: 0,
    });
    expect(await exported(second)).toEqual(files);
    expect(shown(second)).toEqual(shown(first));
  });

  test('keeps every event exactly, and each take beside it as a MIDI file others read', async () => {
    const files = await exported(newLibrary(3));
    const second = newLibrary();
    await imported(second, files);
    const store = createTakeStore(second);
    const [unfinished, last] = store.list(null, 2);
    // Nobody will go on with it here.
    expect(unfinished?.state).toBe('finished');
    expect(store.get(last?.takeId ?? '').events).toEqual(eventsOf(2));
    const midi = Object.entries(files).filter(([path]) => path.endsWith('.mid'));
    expect(midi).toHaveLength(4);
    for (const [path, bytes] of midi) {
      // Another library's reading of the file, and our own.
      const notes = parseMidi(bytes)
        .tracks.flat()
        .filter(({ type }) => type === 'noteOn').length;
      const smf = decodeSmf(bytes);
      const take = smf.ok ? takeFromSmf(smf.value, null) : smf;
      const played = json(files, path.replace(/mid$/, 'json')).events;
      const times = take.ok ? take.value.take.events.map(({ atMs }) => atMs) : [];
      expect(notes).toBe(played.filter(({ kind }: { kind: string }) => kind === 'noteOn').length);
      expect(times).toHaveLength(played.length);
      times.forEach((atMs, index) => {
        expect(Math.abs(atMs - played[index].atMs)).toBeLessThan(0.04);
      });
    }
  });

  test('carries the day and time of the place each take was played in, wherever it comes in', async () => {
    const first = newLibrary(3);
    const far = "day = day - 1, minute = 1430, zone = 'Pacific/Honolulu'";
    first.exec(`UPDATE takes SET ${far}`);
    const times = (database: DatabaseSync) =>
      database
        .prepare(
          'SELECT take_id, day, minute, zone FROM takes WHERE deleted_at_ms IS NULL ORDER BY take_id',
        )
        .all();
    const files = await exported(first);
    const second = newLibrary();
    await imported(second, files);
    expect(times(second)).toEqual(times(first));
    const facts = second.prepare(
      'SELECT f.day = t.day AS same FROM take_facts f JOIN takes t USING (take_id)',
    );
    expect(facts.all().every(({ same }) => same === 1)).toBe(true);
  });

  test('carries the remarks on sessions, and one written before there were any is taken all the same', async () => {
    const files = await exported(newLibrary(1));
    const second = newLibrary();
    await imported(second, files);
    expect(createPracticeJournal(second).remarks()).toMatchObject([
      { atMs: FIRST_START_MS, text: 'Cold hands,\n“slow” – Łódź' },
      { atMs: FIRST_START_MS + 0.5, text: 'half a ms later' },
    ]);
    const { 'remarks.json': _remarks, ...older } = withJson(files, 'remarks.json', () => {});
    const third = newLibrary();
    expect((await imported(third, older)).added.takes).toBe(2);
    expect(createPracticeJournal(third).remarks()).toEqual([]);
  });

  test('leaves out what was deleted', async () => {
    const files = await exported(newLibrary(2));
    expect(json(files, 'charts.json').map(({ title }: { title: string }) => title)).not.toContain(
      'Gone',
    );
    expect(takePaths(files)).toHaveLength(3);
  });
});

describe('an import', () => {
  test('of what is here already changes nothing', async () => {
    const database = newLibrary(6);
    const before = rowsOf(database);
    const result = await imported(database, await exported(database));
    expect(result.added).toEqual({ charts: 0, takes: 0, settings: 0, devices: 0 });
    expect(result.alreadyHere).toEqual({ charts: 2, takes: 7, settings: 2, devices: 1 });
    expect(result.told).toEqual([]);
    expect(rowsOf(database)).toEqual(before);
  });

  test('into another library adds nothing the second time', async () => {
    const files = await exported(newLibrary(4));
    const other = newLibrary();
    const { added } = await imported(other, files);
    expect(added.takes).toBeGreaterThan(0);
    const after = rowsOf(other);
    const twice = await imported(other, files);
    expect(twice.added).toEqual({ charts: 0, takes: 0, settings: 0, devices: 0 });
    expect(rowsOf(other)).toEqual(after);
  });

  test('keeps both of what differs, once however often it is imported', async () => {
    const database = newLibrary(4);
    const files = await exported(database);
    const library = createLibrary(database);
    const chart = library.charts().find(({ title }) => title === 'Cold Pier');
    library.saveChart(chart?.chartId ?? '', 'Cold Pier', 'title: Cold Pier\n# mine\n', 9);
    const [path = ''] = takePaths(files);
    const changed = withJson(files, path, (take) => {
      take.events[0].velocity = 1;
    });
    const once = await imported(database, changed);
    expect(once.added).toMatchObject({ charts: 1, takes: 1 });
    expect(once.told).toHaveLength(2);
    expect(once.told.map(mergedWords).join()).toMatch(/Cold Pier differs.*both are kept/);
    expect(library.charts().filter(({ title }) => title === 'Cold Pier')).toHaveLength(2);
    const after = rowsOf(database);
    const twice = await imported(database, changed);
    expect(twice.added).toMatchObject({ charts: 0, takes: 0 });
    expect(rowsOf(database)).toEqual(after);
  });

  test('brings melodies with their charts, also that of a chart kept beside the one here', async () => {
    const database = newLibrary(1);
    const files = await exported(database);
    expect(json(files, 'melodies.json')).toHaveLength(1);
    const library = createLibrary(database);
    const [pier] = library.charts().filter(({ title }) => title === 'Cold Pier');
    const mine = { ...MELODY, leadIn: 0, sounds: [] };
    library.setMelody(pier?.chartId ?? '', mine);
    const told = (await imported(database, files)).told;
    expect(told.map(mergedWords)).toEqual([
      'The melody of Cold Pier differs from the one here, which stays.',
    ]);
    library.saveChart(pier?.chartId ?? '', 'Cold Pier', 'title: Cold Pier\n# mine\n', 9);
    await imported(database, files);
    const melodies = library
      .charts()
      .filter(({ title }) => title === 'Cold Pier')
      .map(({ chartId, text }) => ({
        isMine: text.includes('# mine'),
        ...library.melody(chartId),
      }));
    expect(melodies.toSorted((one, other) => Number(one.isMine) - Number(other.isMine))).toEqual([
      { isMine: false, ...MELODY },
      { isMine: true, ...mine },
    ]);
  });

  test('of an archive from before melodies were kept is one without them', async () => {
    const files = await exported(newLibrary(1));
    const manifest = json(files, 'manifest.json');
    delete manifest.sha256['melodies.json'];
    const { 'melodies.json': _melodies, ...older } = files;
    const bytes = new TextEncoder().encode(JSON.stringify(manifest));
    const database = newLibrary();
    const { added, told } = await imported(database, { ...older, 'manifest.json': bytes });
    expect([added.charts, told]).toEqual([2, []]);
    expect(readContents(database).melodies()).toEqual([]);
  });

  test('leaves notes, remarks, settings and keyboards here as they are, and says so', async () => {
    const database = newLibrary(2);
    const files = await exported(database);
    createLibrary(database).saveSettings({ player: 'mine' });
    createLibrary(database).saveDevice({
      deviceName: 'Stage piano',
      outputName: 'speakers',
      latencyMs: 1,
      spreadMs: null,
      splitMidi: null,
      channel: null,
    });
    const [row] = createTakeStore(database).list(null, 1);
    createTakeStore(database).setNote(row?.takeId ?? '', 'mine');
    createPracticeJournal(database).setRemark({ atMs: FIRST_START_MS, text: 'mine' });
    const before = rowsOf(database);
    const { told } = await imported(database, files);
    expect(told).toHaveLength(4);
    expect(told.map(mergedWords).join('\n')).toMatch(
      /another note or end[\s\S]*“player” differs[\s\S]*Stage piano[\s\S]*session of 2026-01-05 differs/,
    );
    expect(rowsOf(database)).toEqual(before);
  });

  test('brings back a chart that was deleted, and keeps a deleted take beside itself', async () => {
    const database = newLibrary(1);
    const files = await exported(database);
    const library = createLibrary(database);
    for (const { chartId } of library.charts()) library.setChartDeleted(chartId, 5);
    const store = createTakeStore(database);
    const takeIds = store.list(null, 9).map(({ takeId }) => takeId);
    for (const takeId of takeIds) store.setDeleted(takeId, 5);
    const { added, told } = await imported(database, files);
    expect(added).toMatchObject({ charts: 2, takes: 2 });
    expect(told).toHaveLength(4);
    expect(library.charts()).toHaveLength(2);
    expect(store.list(null, 9)).toHaveLength(2);
  });

  test('of lists that name something twice takes it once', async () => {
    const database = newLibrary();
    const files = await exported(newLibrary(2));
    const [path = ''] = takePaths(files);
    const twice = (data: unknown[]): unknown => data.push(...data.slice());
    const doubled = ['charts.json', 'tags.json', 'devices.json'].reduce<Files>(
      (all, name) => withJson(all, name, twice),
      { ...files, 'takes/again.json': files[path] ?? new Uint8Array() },
    );
    expect(await imported(database, doubled)).toMatchObject({
      added: { charts: 2, takes: 3, devices: 1 },
      alreadyHere: { charts: 2, takes: 1, devices: 1 },
      told: [],
    });
    expect(shown(database).tags.size).toBe(2);
  });

  test('that fails half way changes nothing', async () => {
    const database = newLibrary(2);
    const files = await exported(newLibrary(9));
    const before = rowsOf(database);
    database.exec(
      `CREATE TRIGGER full BEFORE INSERT ON takes WHEN (SELECT COUNT(*) FROM takes) > 8
       BEGIN SELECT RAISE(ABORT, 'no room'); END`,
    );
    await expect(imported(database, files)).rejects.toThrow(/no room/);
    expect(rowsOf(database)).toEqual(before);
  });

  test('of a take with an id of its own making is a row, never a path', async () => {
    const database = newLibrary();
    const files = await exported(newLibrary(1));
    const [path = ''] = takePaths(files);
    const changed = withJson(files, path, (take) => {
      take.takeId = '../../escape';
    });
    await imported(database, changed);
    expect(createTakeStore(database).get('../../escape').setUp.chartTitle).toBe(
      setUpFor().chartTitle,
    );
    expect(Object.keys(await exported(database)).every((name) => !name.includes('..'))).toBe(true);
  });
});

describe('an archive that is not sound is refused, whole, with its place and a remedy', () => {
  async function refused(change: (files: Files) => Files) {
    const database = newLibrary(1);
    const before = rowsOf(database);
    const files = change(await exported(newLibrary(2)));
    const refusal = await refusalFrom(() => imported(database, files));
    expect(rowsOf(database)).toEqual(before);
    expect(tellRefusal(refusal).remedy).toMatch(/^Nothing was changed\./);
    return tellRefusal(refusal).message;
  }
  const bytes = (text: string) => new TextEncoder().encode(text);

  test('without its manifest', async () => {
    const message = await refused(({ 'manifest.json': _manifest, ...files }) => files);
    expect(message).toContain('manifest.json');
  });

  test('of another schema', async () => {
    const message = await refused((files) =>
      withJson(files, 'manifest.json', (manifest) => {
        manifest.schema = 'linekeeper.archive/2';
      }),
    );
    expect(message).toContain('linekeeper.archive/2');
  });

  test('with a file that was changed, lacks or is no JSON', async () => {
    expect(await refused((files) => ({ ...files, 'tags.json': bytes('[]') }))).toContain(
      'tags.json is not what was exported',
    );
    expect(await refused(({ 'devices.json': _devices, ...files }) => files)).toContain(
      'lacks devices.json',
    );
    const [path = ''] = takePaths(await exported(newLibrary(1)));
    expect(path).not.toBe('');
    expect(
      await refused((files) => {
        const [take = ''] = takePaths(files);
        return { ...withJson(files, take, () => {}), [take]: bytes('{"half":') };
      }),
    ).toMatch(/takes\/.*json is no JSON/);
  });

  test('with a value that does not belong', async () => {
    const message = await refused((files) => {
      const [take = ''] = takePaths(files);
      return withJson(files, take, (data) => {
        data.events[1].midi = 128;
      });
    });
    expect(message).toMatch(/takes\/.*events\.1/);
  });

  test('whose list names a file outside', async () => {
    const message = await refused((files) =>
      withJson(files, 'charts.json', (charts) => {
        charts[0].file = '../manifest.json';
      }),
    );
    expect(message).toContain('../manifest.json');
  });
});

test('a file that is no archive is refused', async () => {
  const transfer = createTransfer(join(newFolder(), 'transfer'));
  transfer.put('one', 0, new TextEncoder().encode('a shopping list'));
  const refusal = await refusalFrom(() => importArchive(newLibrary(), transfer, 'one'));
  expect(tellRefusal(refusal).message).toContain('no zip file');
  expect(() => transfer.put('../escape', 0, new Uint8Array(1))).toThrow(/no such archive/);
  expect(() => transfer.read('../library.sqlite', 0)).toThrow(/no such archive/);
});

test('an upload that lost a piece is refused, one that is sent twice counted once', () => {
  const folder = newFolder();
  const transfer = createTransfer(join(folder, 'transfer'));
  expect(transfer.put('one', 0, Uint8Array.of(1, 2))).toBe(2);
  expect(transfer.put('one', 0, Uint8Array.of(1, 2))).toBe(2);
  expect(() => transfer.put('one', 5, Uint8Array.of(6))).toThrow(/missing/);
  expect(transfer.put('one', 2, Uint8Array.of(3))).toBe(3);
  writeFileSync(join(folder, 'beside'), '');
  expect([...readFileSync(transfer.uploadPath('one'))]).toEqual([1, 2, 3]);
});
