/** Makes one backup: a copy of the open library, checked before it is given its name. */

import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { backup, type DatabaseSync } from 'node:sqlite';
import { makeFolder, publishFile } from '../whole-file.ts';
import { type BackupName, formatBackupName, parseBackupName } from './backup-name.ts';
import { finishCopy } from './finish-copy.ts';
import { backupsToRemove } from './rotation.ts';

/** What is being written has this name, and is removed when the program starts again. */
const UNFINISHED = 'unfinished';

/** Newest first. A folder that is not there holds none. */
export function listBackups(folder: string): readonly BackupName[] {
  return namesIn(folder)
    .map(parseBackupName)
    .filter((name) => name !== null)
    .sort((a, b) => b.ordinal - a.ordinal);
}

function namesIn(folder: string): readonly string[] {
  try {
    return readdirSync(folder);
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return [];
    throw error;
  }
}

/**
 * Copies the library while it is in use: what is written meanwhile is in the copy or is not, as a whole. Then removes
 * the backups that are in excess. Throws for a copy that is not sound or cannot be written; nothing is left of it.
 */
export async function makeBackup(
  database: DatabaseSync,
  folder: string,
  nowMs: number,
): Promise<BackupName> {
  makeFolder(folder);
  const unfinished = join(folder, UNFINISHED);
  removeUnfinished(folder);
  try {
    await backup(database, unfinished);
    await finishCopy(unfinished);
    const before = listBackups(folder);
    const name = formatBackupName((before[0]?.ordinal ?? 0) + 1, nowMs);
    publishFile(unfinished, join(folder, name));
    const made = parseBackupName(name);
    if (made === null) throw new Error(`${name} is no name of a backup`);
    for (const old of backupsToRemove([made, ...before])) rmSync(join(folder, old.name));
    return made;
  } finally {
    removeUnfinished(folder);
  }
}

/** Removes what a program that was killed left half written. */
export function removeUnfinished(folder: string): void {
  for (const ending of ['', '-journal', '-wal', '-shm']) {
    rmSync(join(folder, UNFINISHED + ending), { force: true });
  }
}
