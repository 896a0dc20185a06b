/** Backups of the library: made by themselves, in the background. A backup that fails is told and stops nothing. */

import type { DatabaseSync } from 'node:sqlite';
import type { Refusal } from '../../../../shared/bridge/index.ts';
import { refusal, refusalOf } from '../store-error.ts';
import type { BackupName } from './backup-name.ts';
import { listBackups, makeBackup, removeUnfinished } from './make-backup.ts';
import { isBackupDue } from './rotation.ts';

export { type BackupName, parseBackupName, timeStamp } from './backup-name.ts';
export { listBackups } from './make-backup.ts';

export interface Backups {
  /** Newest first. */
  list(): readonly BackupName[];
  /** Why the last attempt failed; null when it did not. */
  problem(): Refusal | null;
  /** Makes one now, or joins the one being made; answers whether it is there. */
  make(): Promise<boolean>;
  /** Makes one if the last is a day old. */
  makeWhenDue(): Promise<boolean>;
  /** Makes one if anything changed since the last of this run. */
  makeWhenChanged(): Promise<boolean>;
}

/** The backups of an open library. `onChange` is called when one was made or has failed. */
export function createBackups(
  database: DatabaseSync,
  folder: string,
  nowMs: () => number,
  onChange: () => void,
): Backups {
  let problem: Refusal | null = null;
  let running: Promise<boolean> | null = null;
  let changesThen = changesOf(database);

  async function attempt(): Promise<boolean> {
    const changesNow = changesOf(database);
    try {
      await makeBackup(database, folder, nowMs());
      changesThen = changesNow;
      problem = null;
    } catch (error) {
      problem = failureOf(error, folder);
    }
    onChange();
    return problem === null;
  }

  const backups: Backups = {
    list: () => listBackups(folder),
    problem: () => problem,
    make() {
      running ??= attempt().finally(() => {
        running = null;
      });
      return running;
    },
    async makeWhenDue() {
      try {
        removeUnfinished(folder);
        if (!isBackupDue(listBackups(folder)[0] ?? null, nowMs())) return true;
      } catch (error) {
        problem = failureOf(error, folder);
        onChange();
        return false;
      }
      return backups.make();
    },
    async makeWhenChanged() {
      // One that is under way may have begun before the last change.
      await running;
      return changesOf(database) === changesThen ? true : backups.make();
    },
  };
  return backups;
}

function changesOf(database: DatabaseSync): number {
  return Number(database.prepare('SELECT total_changes() AS changes').get()?.['changes'] ?? 0);
}

function failureOf(error: unknown, folder: string): Refusal {
  const { code, why } = refusalOf(error);
  return why.kind === 'backupFailed'
    ? refusal(code, why)
    : refusal(code, { kind: 'backupFailed', folder, because: why });
}
