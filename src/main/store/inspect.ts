/** Looks at a library file without changing a byte of it: which schema, and whether it is sound. */

import { existsSync, statSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';
import { pathToFileURL } from 'node:url';
import type { DAMAGES } from '../../../shared/bridge/index.ts';
import { refusal, StoreError } from './store-error.ts';

type Damage = (typeof DAMAGES)[number];

/** A library that is there and cannot be used as it is; a backup can take its place. */
export class DamageError extends StoreError {
  constructor(damage: Damage, detail: string | null = null) {
    super(refusal('damaged', { kind: 'libraryDamaged', damage, detail }));
  }
}

/** SQLite's result codes for a file that is damaged. Source: sqlite.org, "Result and Error Codes". */
const CORRUPT = 11;
const NOT_A_DATABASE = 26;

/** Opens a library to read it alone; nothing is written to it, and beside it only what its open journal asks for. */
export function openToRead(file: string): DatabaseSync {
  const journal = `${file}-wal`;
  const hasJournal = existsSync(journal) && statSync(journal).size > 0;
  if (hasJournal) return new DatabaseSync(file, { readOnly: true });
  // Without a journal there is nothing to share with a writer, and no file appears beside it.
  const url = pathToFileURL(file);
  url.searchParams.set('immutable', '1');
  return new DatabaseSync(url, { readOnly: true });
}

/** Opens a damaged library to read what can be read. Throws a `DamageError` when that is nothing. */
export function openDamaged(file: string): DatabaseSync {
  const database = openToRead(file);
  try {
    database.prepare('SELECT COUNT(*) FROM sqlite_master').get();
    return database;
  } catch (error) {
    database.close();
    if (damageOf(error) === null) throw error;
    throw new DamageError('contentsGone');
  }
}

/**
 * Says in the file's header whose it is: "Lkpr". Source: sqlite.org, "Database File Format", section 1.3.16,
 * "Application ID".
 */
export const APPLICATION_ID = 0x4c6b7072;

/**
 * The schema version of a sound library; 0 for a new one without content. Throws a `DamageError` for one that is not
 * sound, and for a database of another program.
 */
export function inspectLibrary(file: string): number {
  const database = openToRead(file);
  try {
    return inspect(database);
  } finally {
    database.close();
  }
}

function inspect(database: DatabaseSync): number {
  try {
    const version = Number(database.prepare('PRAGMA user_version').get()?.['user_version'] ?? 0);
    const fault = String(database.prepare('PRAGMA quick_check(1)').get()?.['quick_check']);
    if (fault !== 'ok') throw new DamageError('pagesTorn', oneLine(fault));
    if (isForeign(database)) throw new DamageError('foreignDatabase');
    return version;
  } catch (error) {
    throw damageOf(error) ?? error;
  }
}

/** Libraries from before they were marked have takes; a file without any table is still to become one. */
function isForeign(database: DatabaseSync): boolean {
  const id = database.prepare('PRAGMA application_id').get()?.['application_id'];
  if (id === APPLICATION_ID) return false;
  const names = database.prepare('SELECT name FROM sqlite_master').all();
  return id !== 0 || (names.length > 0 && !names.some(({ name }) => name === 'takes'));
}

/** SQLite's words for a fault, without the heading above them. */
function oneLine(fault: string): string {
  return fault.replace(/^\*\*\* in database main \*\*\*\n/, '').replaceAll('\n', ' ');
}

/** A `DamageError` for what SQLite says of a damaged file; null for anything else. */
export function damageOf(error: unknown): DamageError | null {
  if (error instanceof DamageError) return error;
  if (!(error instanceof Error && 'errcode' in error && typeof error.errcode === 'number')) {
    return null;
  }
  const code = error.errcode & 0xff;
  if (code === NOT_A_DATABASE) return new DamageError('notADatabase');
  return code === CORRUPT ? new DamageError('pagesUnreadable') : null;
}
