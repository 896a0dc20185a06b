/** Keeps the library of an older program as it was, before it is migrated: that program opens it still. */

import { constants, copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { sealLibrary } from '../seal.ts';
import { makeFolder, publishFile } from '../whole-file.ts';
import { removeUnfinished, UNFINISHED } from './make-backup.ts';

/** The name of the library of an older schema; no rotation takes it away. */
export function oldLibraryName(version: number): string {
  return `library-of-schema-${version}.sqlite`;
}

/** Copies a library that nobody has open, in the place of an older one of its schema. Throws where there is no room for it. */
export function keepOldLibrary(file: string, folder: string, version: number): void {
  // What its program left beside it when it was killed belongs to it.
  sealLibrary(file);
  makeFolder(folder);
  removeUnfinished(folder);
  const unfinished = join(folder, UNFINISHED);
  try {
    copyFileSync(file, unfinished, constants.COPYFILE_FICLONE);
    publishFile(unfinished, join(folder, oldLibraryName(version)));
  } finally {
    removeUnfinished(folder);
  }
}
