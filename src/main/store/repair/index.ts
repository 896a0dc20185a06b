/** What can be done when the library cannot be used: another in its place, or what is readable of it. */

import { copyFileSync, existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { type BackupName, listBackups, timeStamp } from '../backups/index.ts';
import { DamageError, inspectLibrary, openToRead } from '../inspect.ts';
import { openLibrary, refuseNewer } from '../open-store.ts';
import { sealLibrary } from '../seal.ts';
import { plainRefusal, StoreError } from '../store-error.ts';
import { LIBRARY_FILE, putInPlace } from './put-in-place.ts';

export { finishPutInPlace, LIBRARY_FILE } from './put-in-place.ts';

/** A backup that can be restored, with what is in it. */
export interface SoundBackup extends BackupName {
  readonly charts: number;
  readonly takes: number;
}

export interface FoundBackups {
  /** The newest that is sound. */
  readonly newest: SoundBackup | null;
  /** How many newer ones are damaged too. */
  readonly damaged: number;
}

/** Throws a `DamageError` for a library that is gone or empty while there are backups of it. */
export function refuseEmptied(file: string, backupFolder: string): void {
  const isEmpty = !existsSync(file) || statSync(file).size === 0;
  if (!isEmpty || listBackups(backupFolder).length === 0) return;
  throw new DamageError('fileGone');
}

/** Looks through the backups, newest first, until one is sound. */
export function findSoundBackup(backupFolder: string): FoundBackups {
  let damaged = 0;
  for (const backup of listBackups(backupFolder)) {
    const file = join(backupFolder, backup.name);
    try {
      refuseNewer(inspectLibrary(file));
      return { newest: { ...backup, ...countRows(file) }, damaged };
    } catch {
      // Whatever is wrong with it, it cannot be restored; the next may be.
      damaged++;
    }
  }
  return { newest: null, damaged };
}

function countRows(file: string): { readonly charts: number; readonly takes: number } {
  const database = openToRead(file);
  try {
    const count = (table: string): number =>
      Number(
        database
          .prepare(`SELECT COUNT(*) AS rows FROM ${table} WHERE deleted_at_ms IS NULL`)
          .get()?.['rows'],
      );
    return { charts: count('charts'), takes: count('takes') };
  } finally {
    database.close();
  }
}

/** Puts a backup in the library's place; answers the folder the old library is in. */
export function restoreBackup(
  folder: string,
  backupFolder: string,
  name: string,
  nowMs: number,
): string {
  // Only what is listed is restored: a name is no path.
  const listed = listBackups(backupFolder).find((backup) => backup.name === name);
  if (listed === undefined) {
    throw new StoreError(plainRefusal('notFound', 'noSuchBackup'));
  }
  const file = join(backupFolder, listed.name);
  refuseNewer(inspectLibrary(file));
  return putInPlace(folder, timeStamp(nowMs), (path) => copyFileSync(file, path));
}

/** Puts an empty library in the place of the old one; answers the folder that one is in. */
export function beginNewLibrary(folder: string, nowMs: number): string {
  return putInPlace(folder, timeStamp(nowMs), (path) => {
    openLibrary(path).close();
    sealLibrary(path);
  });
}

/** The library of a data folder. */
export function libraryFile(folder: string): string {
  return join(folder, LIBRARY_FILE);
}
