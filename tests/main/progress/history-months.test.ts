/**
 * Months kept in one piece say what the takes say, whatever became of these: after every change the history read from pieces is
 * that read from the rows alone, by the same program on a library without any piece.
 */

import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import type { TakeFigures, TakeSetUp } from '../../../shared/bridge/index.ts';
import type { PlayedTake } from '../../../src/core/progress/index.ts';
import { createHistory, type History } from '../../../src/main/progress/index.ts';
import { type KeptTake, packMonth, unpackMonth } from '../../../src/main/progress/month-codec.ts';
import {
  createBackups,
  createTakeStore,
  mergeContents,
  openLibrary,
  packTake,
  readContents,
} from '../../../src/main/store/index.ts';
import { newFolder } from '../../helpers/library.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const NOW_MS = Date.UTC(2026, 5, 1, 18);
const DAY_MS = 86_400_000;
const NOW = { nowMs: NOW_MS, utcOffsetMinutes: 0 };

function setUp(tempoBpm: number, bars: TakeSetUp['bars'] = null): TakeSetUp {
  const base = setUpFor('pier');
  return { ...base, bars, grade: { ...base.grade, tempo: { kind: 'steady', tempoBpm } } };
}

function figures(clean: number, slots = 8): TakeFigures {
  return {
    ...{ slots, clean, changesCounted: 2, changesOnTime: 1, changesUnproven: 0, changesLeftOut: 0 },
    evidence: {
      choruses: 1,
      bars: [{ bar: 1, slots, clean }],
      lateChanges: [{ bar: 1, beat: 2, toChord: 'G7♭9' }],
      chords: [],
    },
  };
}

/** Takes over half a year, some of them drills. */
function filled() {
  const file = join(newFolder(), 'library.sqlite');
  const database = openLibrary(file);
  const takes = createTakeStore(database);
  const add = (daysAgo: number, clean = 8, bars: TakeSetUp['bars'] = null): string =>
    takes.add(setUp(60 + clean, bars), NOW_MS - daysAgo * DAY_MS, [], 60_000, figures(clean));
  const ids = Array.from({ length: 40 }, (_, index) =>
    add(index * 4.5, index % 9, index % 5 === 0 ? { from: 2, to: 3 } : null),
  );
  return { file, database, takes, add, ids };
}

/** Everything a history says, with the lists that are made when asked for. */
function told(history: History) {
  const plain = (takes: Iterable<PlayedTake>) =>
    [...takes].map(({ evidence, ...take }) => {
      const { bars, lateChanges } = evidence;
      return { ...take, evidence: { ...evidence, bars, lateChanges } };
    });
  return {
    whole: plain(history.whole(() => true)),
    drills: plain(history.recentDrills(0)),
    practices: [...history.practices(NOW)].map(([id, { played }]) => [id, played.takes.length]),
  };
}

function fromRows(database: DatabaseSync) {
  database.exec('SAVEPOINT rows; UPDATE history_months SET bytes = NULL');
  const all = told(createHistory(database));
  database.exec('ROLLBACK TO rows; RELEASE rows');
  return all;
}

function emptyMonths(database: DatabaseSync): number {
  const sql = 'SELECT COUNT(*) AS months FROM history_months WHERE bytes IS NULL';
  return Number(database.prepare(sql).get()?.['months']);
}

/** The library's history by pieces as they are there, which must be that by rows; how many months had no piece. */
function expectTrue(database: DatabaseSync): number {
  expect(told(createHistory(database))).toEqual(fromRows(database));
  return emptyMonths(database);
}

describe('months in one piece', () => {
  test('are kept ahead, and say what the rows say', async () => {
    const { database } = filled();
    expect(expectTrue(database)).toBeGreaterThan(5);
    await createHistory(database).warmUp();
    expect(expectTrue(database)).toBe(0);
    expect(told(createHistory(database)).whole).toHaveLength(32);
    expect(told(createHistory(database)).drills).toHaveLength(8);
  });

  const changes: readonly (readonly [string, (library: ReturnType<typeof filled>) => void])[] = [
    ['a take is added', ({ add }) => add(50)],
    ['a take is deleted', ({ takes, ids }) => takes.setDeleted(ids[7] ?? '', NOW_MS)],
    [
      'a take is finished with other figures',
      ({ takes, ids }) => takes.finish(ids[8] ?? '', 5, figures(3)),
    ],
    [
      'a take turns out to be in another key, and that is undecided',
      ({ database }) =>
        database.exec(`UPDATE takes SET readings = '[{"kind":"key","value":2}]' WHERE rowid = 9`),
    ],
    [
      'a row is changed by hand',
      ({ database }) =>
        database.exec(`UPDATE takes SET started_at_ms = started_at_ms - 9e9, set_up = replace(set_up, '"pier"', '"quay"')
          WHERE rowid = 6`),
    ],
    [
      'rows are removed by hand',
      ({ database }) => database.exec('DELETE FROM takes WHERE rowid < 4'),
    ],
  ];

  test.each(changes)('are empty, and true, after %s', async (_, change) => {
    const library = filled();
    await createHistory(library.database).warmUp();
    const before = told(createHistory(library.database));
    change(library);
    expect(expectTrue(library.database)).toBeGreaterThan(0);
    expect(told(createHistory(library.database))).not.toEqual(before);
    await createHistory(library.database).warmUp();
    expect(expectTrue(library.database)).toBe(0);
  });

  test('leave a take out of readiness until its reading is decided', async () => {
    const { database, ids } = filled();
    const isUndecided = () =>
      [...createHistory(database).whole(() => true)].filter((take) => take.evidence.isUndecided);
    const set = (readings: string, decision: string | null) =>
      database
        .prepare('UPDATE takes SET readings = ?, decision = ? WHERE take_id = ?')
        .run(readings, decision, ids[7] ?? '');
    set('[{"kind":"key","value":2}]', null);
    expect(isUndecided().map(({ takeId }) => takeId)).toEqual([ids[7]]);
    await createHistory(database).warmUp();
    expect(isUndecided().map(({ takeId }) => takeId)).toEqual([ids[7]]);
    set('[{"kind":"key","value":2}]', '{"choice":"refused"}');
    expect(isUndecided()).toEqual([]);
    // A slip only explains, and of what cannot be read nothing is known.
    for (const readings of ['[{"kind":"slip","value":1}]', '[', '[]']) {
      set(readings, null);
      expect(isUndecided()).toEqual([]);
    }
  });

  test('have a deleted take again when it is taken back', async () => {
    const { database, takes, ids } = filled();
    const before = told(createHistory(database));
    for (const deletedAtMs of [NOW_MS, null]) {
      takes.setDeleted(ids[3] ?? '', deletedAtMs);
      await createHistory(database).warmUp();
    }
    expect(expectTrue(database)).toBe(0);
    expect(told(createHistory(database))).toEqual(before);
  });

  test('stay as they are while a take is played, and when a note is written to one', async () => {
    const { database, takes, ids } = filled();
    const takeId = takes.begin(setUp(70), NOW_MS);
    await createHistory(database).warmUp();
    takes.append(takeId, 0, [{ kind: 'noteOn', atMs: 1, midi: 60, velocity: 60 }]);
    takes.setNote(ids[2] ?? '', 'slower');
    expect(expectTrue(database)).toBe(0);
  });

  test('have what another library brings in', async () => {
    const { database } = filled();
    const other = filled();
    await createHistory(database).warmUp();
    const contents = readContents(other.database);
    const incoming = contents.takeRows().flatMap((row) => contents.take(row) ?? []);
    const none = { charts: [], tags: [], melodies: [], settings: [], devices: [], remarks: [] };
    mergeContents(database, { ...none, takes: incoming.map(packTake) });
    expect(expectTrue(database)).toBeGreaterThan(5);
    expect(told(createHistory(database)).whole).toHaveLength(64);
  });

  test('are what a backup had, not what was played since', async () => {
    const { file, database, add } = filled();
    await createHistory(database).warmUp();
    const backups = createBackups(
      database,
      join(file, '..', 'backups'),
      () => NOW_MS,
      () => {},
    );
    await backups.make();
    add(1);
    const [backup] = backups.list();
    const restored = join(newFolder(), 'library.sqlite');
    copyFileSync(join(file, '..', 'backups', backup?.name ?? ''), restored);
    const old = openLibrary(restored);
    expect(expectTrue(old)).toBe(0);
    expect(told(createHistory(old)).whole).toHaveLength(32);
  });

  test('that are damaged, or of another format, are read from the rows and kept anew', async () => {
    for (const damage of ['substr(bytes, 1, 40)', "x'02' || substr(bytes, 2)", "bytes || x'00'"]) {
      const { database } = filled();
      await createHistory(database).warmUp();
      database.exec(`UPDATE history_months SET bytes = CAST(${damage} AS BLOB)`);
      expectTrue(database);
      await createHistory(database).warmUp();
      const sizes = database.prepare('SELECT length(bytes) AS bytes FROM history_months').all();
      expect(sizes.every(({ bytes }) => Number(bytes) > 41)).toBe(true);
      expectTrue(database);
    }
  });
});

describe('takes as bytes and back', () => {
  const kept = (bars: KeptTake['take']['evidence']['bars']): KeptTake => ({
    bars: null,
    practice: '["pier","a \\"b\\"","Bb","free"]',
    take: {
      ...{ takeId: 'é', chartId: 'pier', chartTitle: 'Pier', plan: 'a "b"', key: 'Bb' },
      ...{ level: 'free', tempoBpm: 61.5 },
      evidence: {
        ...{ playedAtMs: NOW_MS + 0.25, choruses: 2, slots: 9, clean: 8, bars },
        ...{
          changesCounted: 3,
          changesOnTime: 2,
          changesUnproven: 2,
          changesLeftOut: 1,
          lateChanges: [],
        },
      },
    },
  });
  const back = (one: KeptTake) => {
    const [read] = unpackMonth(packMonth([one]))?.takes(() => true) ?? [];
    const evidence = read?.take.evidence;
    return [read?.take, evidence?.bars, read?.practice];
  };

  test.each([
    ['small', [{ bar: 3, slots: 65_535, clean: 2 }]],
    ['large', [{ bar: 3, slots: 65_536, clean: 70_000 }]],
    ['told of each time', [{ bar: 3, slots: 16, clean: 14, times: 2, faultySquares: 2 }]],
    ['told of no time', [{ bar: 3, slots: 0, clean: 0, times: 0, faultySquares: 0 }]],
    ['none', []],
  ])('counts that are %s', (_, bars) => {
    const [take, read, practice] = back(kept(bars));
    expect(read).toEqual(bars);
    expect(take).toMatchObject({ takeId: 'é', plan: 'a "b"', tempoBpm: 61.5, level: 'free' });
    expect(take).toMatchObject({ evidence: { changesUnproven: 2, changesLeftOut: 1 } });
    expect(practice).toBe(kept([]).practice);
  });

  test('lie anywhere in memory', () => {
    const bytes = packMonth([kept([{ bar: 1, slots: 8, clean: 7 }])]);
    const shifted = new Uint8Array(bytes.length + 1).subarray(1);
    shifted.set(bytes);
    const [read] = unpackMonth(shifted)?.takes(() => true) ?? [];
    expect(read?.take.evidence.bars).toEqual([{ bar: 1, slots: 8, clean: 7 }]);
  });
});
