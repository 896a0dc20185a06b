/** Which backups stay. Own rule: seven days, four weeks, twelve months; no clock makes a backup old. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type BackupName,
  formatBackupName,
  parseBackupName,
} from '../../../../src/main/store/backups/backup-name.ts';
import { backupsToRemove, isBackupDue, KEPT } from '../../../../src/main/store/backups/rotation.ts';

const DAY_MS = 86_400_000;
const START_MS = Date.UTC(2026, 0, 1, 20);

/** Makes backups at these times, one after the other, and gives what is left. */
function afterBackupsAt(timesMs: readonly number[]): readonly BackupName[] {
  let kept: readonly BackupName[] = [];
  timesMs.forEach((madeAtMs, index) => {
    const all = [
      ...kept,
      { name: formatBackupName(index + 1, madeAtMs), ordinal: index + 1, madeAtMs },
    ];
    const removed = new Set(backupsToRemove(all));
    kept = all.filter((backup) => !removed.has(backup));
  });
  return kept;
}

const days = (backups: readonly BackupName[]) =>
  backups.map(({ madeAtMs }) => new Date(madeAtMs).toISOString().slice(0, 10));

describe('after years of a backup every evening', () => {
  const kept = afterBackupsAt(Array.from({ length: 3 * 365 }, (_, day) => START_MS + day * DAY_MS));
  // The last evening is Saturday, 30 December 2028. Calendar of 2028 by hand.
  test('the last seven evenings, the last four weeks and twelve months are there', () => {
    expect(days(kept)).toEqual([
      '2028-01-31',
      '2028-02-29',
      '2028-03-31',
      '2028-04-30',
      '2028-05-31',
      '2028-06-30',
      '2028-07-31',
      '2028-08-31',
      '2028-09-30',
      '2028-10-31',
      '2028-11-30',
      '2028-12-10',
      '2028-12-17',
      '2028-12-24',
      '2028-12-25',
      '2028-12-26',
      '2028-12-27',
      '2028-12-28',
      '2028-12-29',
      '2028-12-30',
    ]);
  });
});

test('of one day the last one stays', () => {
  const kept = afterBackupsAt([0, 1, 2, 3].map((hour) => START_MS + hour * 3_600_000));
  expect(kept.map(({ ordinal }) => ordinal)).toEqual([4]);
});

test('a clock set back by years removes nothing that was there, and the new ones stay too', () => {
  const before = Array.from({ length: 5 }, (_, day) => START_MS + day * DAY_MS);
  const after = [0, 1].map((day) => Date.UTC(2001, 4, 5 + day));
  const kept = days(afterBackupsAt([...before, ...after]));
  expect(kept).toEqual(
    [...before, ...after].map((atMs) => new Date(atMs).toISOString().slice(0, 10)),
  );
});

test('whatever the clock does, the newest stays and there are never too many', () => {
  const time = fc
    .integer({ min: 0, max: Date.UTC(2100, 0) / 1000 })
    .map((seconds) => seconds * 1000);
  fc.assert(
    fc.property(fc.array(time, { minLength: 1, maxLength: 60 }), (timesMs) => {
      const kept = afterBackupsAt(timesMs);
      expect(kept.at(-1)?.ordinal).toBe(timesMs.length);
      expect(kept.length).toBeLessThanOrEqual(KEPT.days + KEPT.weeks + KEPT.months);
      expect(kept.length).toBeGreaterThanOrEqual(Math.min(KEPT.days, new Set(days(kept)).size));
    }),
  );
});

describe('a backup is due', () => {
  const newest = { name: '', ordinal: 1, madeAtMs: START_MS };
  test.each([
    ['when there is none', null, START_MS, true],
    ['not a millisecond before a day', newest, START_MS + DAY_MS - 1, false],
    ['after a day', newest, START_MS + DAY_MS, true],
    ['not at once', newest, START_MS, false],
    ['when the clock stands before the last one', newest, START_MS - 1, true],
  ])('%s', (_when, last, nowMs, due) => {
    expect(isBackupDue(last, nowMs)).toBe(due);
  });
});

test('names are read back, and other names are none', () => {
  const time = fc.integer({ min: 0, max: 4_000_000_000 }).map((seconds) => seconds * 1000);
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 9_999_999 }), time, (ordinal, madeAtMs) => {
      const name = formatBackupName(ordinal, madeAtMs);
      expect(parseBackupName(name)).toEqual({ name, ordinal, madeAtMs });
    }),
  );
  for (const name of [
    'unfinished',
    'library.sqlite',
    'library-000001-20261399T000000Z.sqlite',
    '../library-000001-20260101T000000Z.sqlite',
  ]) {
    expect(parseBackupName(name)).toBeNull();
  }
});
