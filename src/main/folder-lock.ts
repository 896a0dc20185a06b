/**
 * One program at a time on a data folder: a take that is being played must not look, to another start, like one whose
 * program has died.
 *
 * The lock is SQLite's own on a file kept for nothing else. The system lets go of it when its holder dies, however it
 * dies, so there is no stale lock to recognise.
 */

import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';

export interface FolderLock {
  release(): void;
}

/** SQLite's result code for a file another connection holds. Source: sqlite.org, "Result and Error Codes". */
const BUSY = 5;

/** Takes the lock of a folder, or answers null when another program has it. Throws when the folder cannot be written. */
export function lockFolder(folder: string): FolderLock | null {
  const database = new DatabaseSync(join(folder, 'running.lock'));
  try {
    database.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    database.close();
    if (error instanceof Error && 'errcode' in error && error.errcode === BUSY) return null;
    throw error;
  }
  return { release: () => database.close() };
}
