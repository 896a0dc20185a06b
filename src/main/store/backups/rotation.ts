/**
 * Which backups stay: the newest of each of the last seven days that have one, of four weeks and of twelve months. It
 * counts days that have a backup and never asks what time it is, so no clock that was set wrong makes backups old.
 */

import type { BackupName } from './backup-name.ts';

const DAY_MS = 86_400_000;
/** The first Monday after 1970 began is its fifth day. */
const MONDAY_MS = 4 * DAY_MS;

/** How many of each kind stay; own choice: a year and a half of practice to fall back on, in at most 23 files. */
export const KEPT = { days: 7, weeks: 4, months: 12 } as const;

interface Kind {
  readonly most: number;
  /** The day, week or month of a time, UTC. */
  readonly bucket: (atMs: number) => string;
}

const KINDS: readonly Kind[] = [
  { most: KEPT.days, bucket: (atMs) => String(Math.floor(atMs / DAY_MS)) },
  { most: KEPT.weeks, bucket: (atMs) => String(Math.floor((atMs - MONDAY_MS) / (7 * DAY_MS))) },
  { most: KEPT.months, bucket: (atMs) => new Date(atMs).toISOString().slice(0, 7) },
];

/** The backups that are in excess, in any order. The newest is never among them. */
export function backupsToRemove(backups: readonly BackupName[]): readonly BackupName[] {
  const newestFirst = [...backups].sort((a, b) => b.ordinal - a.ordinal);
  const kept = new Set<string>();
  for (const { most, bucket } of KINDS) {
    const seen = new Set<string>();
    for (const { name, madeAtMs } of newestFirst) {
      const own = bucket(madeAtMs);
      if (seen.has(own)) continue;
      if (seen.size === most) break;
      seen.add(own);
      kept.add(name);
    }
  }
  return newestFirst.filter(({ name }) => !kept.has(name));
}

/** Whether it is time for another: none yet, the newest is a day old, or the clock stands before it. */
export function isBackupDue(newest: BackupName | null, nowMs: number): boolean {
  return newest === null || nowMs - newest.madeAtMs >= DAY_MS || nowMs < newest.madeAtMs;
}
