/** Makes a library one file that needs no journal beside it. */

import { DatabaseSync } from 'node:sqlite';

/** Of a library that nobody has open. */
export function sealLibrary(file: string): void {
  const database = new DatabaseSync(file);
  try {
    // Nobody shares it, so no memory for sharing is laid out beside it.
    database.exec('PRAGMA locking_mode = EXCLUSIVE; PRAGMA journal_mode = DELETE;');
  } finally {
    database.close();
  }
}
