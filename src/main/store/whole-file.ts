/** Files that are seen whole or not at all, also after a power cut. */

import { closeSync, fsyncSync, mkdirSync, openSync, renameSync } from 'node:fs';
import { dirname } from 'node:path';

/** Gives a finished file its name: its bytes reach the disk first, then the name. */
export function publishFile(unfinished: string, file: string): void {
  syncPath(unfinished, 'r+');
  renameSync(unfinished, file);
  syncFolder(dirname(file));
}

/** Makes a folder unless it is there. Its parent must be: one that is gone is no place to write to. */
export function makeFolder(folder: string): void {
  try {
    mkdirSync(folder);
  } catch (error) {
    const isThere = error instanceof Error && 'code' in error && error.code === 'EEXIST';
    if (!isThere) throw error;
  }
}

/** Brings a folder's list of names to the disk. Windows has no such call and needs none. */
export function syncFolder(folder: string): void {
  if (process.platform === 'win32') return;
  syncPath(folder, 'r');
}

function syncPath(path: string, flags: string): void {
  const handle = openSync(path, flags);
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
