/** Makes one backup: a copy of the open library, checked before it is given its name. */

import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { backup, type DatabaseSync } from 'node:sqlite';
import { makeFolder, publishFile } from '../whole-file.ts';
import { type BackupName, formatBackupName, parseBackupName } from './backup-name.ts';
import { finishCopy } from './finish-copy.ts';
import { backupsToRemove } from './rotation.ts';

/** What is being written has this name, and is removed when the program starts again. */
export const UNFINISHED = 'unfinished';

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
    await copyWhileInUse(database, unfinished);
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

/** A library that is written to at that very moment; a take is appended to ten times a second. */
const MOST_TRIES = 20;

/**
 * Node's `backup` ends with an error whose code says that there is none when the library is written to between two of
 * its steps, about one time in nine while a take is being played (seen with Node 24.21). Then the copy is begun again.
 */
async function copyWhileInUse(database: DatabaseSync, path: string): Promise<void> {
  for (let tries = 1; ; tries++) {
    try {
      await backup(database, path);
      return;
    } catch (error) {
      const isNone = error instanceof Error && 'errcode' in error && error.errcode === 0;
      if (!isNone || tries === MOST_TRIES) throw error;
    }
  }
}

/** Removes what a program that was killed left half written. */
export function removeUnfinished(folder: string): void {
  for (const ending of ['', '-journal', '-wal', '-shm']) {
    rmSync(join(folder, UNFINISHED + ending), { force: true });
  }
}
