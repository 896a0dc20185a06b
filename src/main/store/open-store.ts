/**
 * Opens the library: one SQLite file. Creates or migrates it. It is looked at first: one that is damaged, or of a newer
 * program, is refused before anything could write to it.
 */

import { accessSync, constants, existsSync, mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { keepOldLibrary } from './backups/keep-old.ts';
import { APPLICATION_ID, inspectLibrary } from './inspect.ts';
import { MIGRATIONS } from './migrations.ts';
import { refusal, StoreError } from './store-error.ts';

/**
 * Opens the library file, creating its folder. Write-ahead logging with full synchronisation: a call that has returned
 * survives the death of the program and a power cut alike. One of an older schema is kept in a folder as it was before it is
 * migrated, where one is given. Throws a `DamageError` for a damaged library, a `StoreError` for a newer one.
 */
export function openLibrary(file: string, keepOldIn: string | null = null): DatabaseSync {
  mkdirSync(dirname(file), { recursive: true });
  if (existsSync(file)) {
    refuseReadOnly(file);
    const version = inspectLibrary(file);
    refuseNewer(version);
    const isOld = version > 0 && version < MIGRATIONS.length;
    if (keepOldIn !== null && isOld) keepOldLibrary(file, keepOldIn, version);
  }
  const database = new DatabaseSync(file);
  try {
    database.exec(
      'PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;',
    );
    database.exec('PRAGMA busy_timeout = 2000;');
    const version = readVersion(database);
    // A new library is made at once: each transaction waits for the disk, and there is nothing yet to keep step by step.
    if (version === 0) {
      transaction(database, () => {
        migrate(database, version, MIGRATIONS);
        mark(database);
      });
    } else {
      migrate(database, version, MIGRATIONS);
      mark(database);
    }
    return database;
  } catch (error) {
    database.close();
    throw error;
  }
}

/** SQLite opens a file that may only be read all the same, and would fail at the first note. */
function refuseReadOnly(file: string): void {
  try {
    accessSync(file, constants.R_OK | constants.W_OK);
  } catch {
    throw new StoreError(refusal('readOnly', { kind: 'libraryReadOnly', file }));
  }
}

/** Throws a `StoreError` for the schema version of a newer program. */
export function refuseNewer(version: number): void {
  if (version <= MIGRATIONS.length) return;
  throw new StoreError(
    refusal('notAllowed', {
      ...{ kind: 'newerLibrary', schema: version, known: MIGRATIONS.length },
    }),
  );
}

/** Says whose file it is; one that says so already is not written to. */
function mark(database: DatabaseSync): void {
  const id = database.prepare('PRAGMA application_id').get()?.['application_id'];
  if (id !== APPLICATION_ID) database.exec(`PRAGMA application_id = ${APPLICATION_ID}`);
}

function readVersion(database: DatabaseSync): number {
  return Number(database.prepare('PRAGMA user_version').get()?.['user_version'] ?? 0);
}

/** Runs the steps that are missing, each with its record in one transaction. */
export function migrate(
  database: DatabaseSync,
  version: number,
  migrations: readonly string[],
): void {
  migrations.slice(version).forEach((step, index) => {
    transaction(database, () => {
      database.exec(step);
      database.exec(`PRAGMA user_version = ${version + index + 1}`);
    });
  });
}

/**
 * Runs work in one transaction: all of it is kept, or nothing. Inside another transaction it is a part of that one, so
 * that what throws must be let through.
 */
export function transaction<Result>(database: DatabaseSync, work: () => Result): Result {
  if (database.isTransaction) return work();
  database.exec('BEGIN IMMEDIATE');
  try {
    const result = work();
    database.exec('COMMIT');
    return result;
  } catch (error) {
    if (database.isTransaction) database.exec('ROLLBACK');
    throw error;
  }
}
