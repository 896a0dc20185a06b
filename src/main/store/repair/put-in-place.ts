/**
 * Puts another library in the place of the one that is there, which is set aside and never deleted. Killed at any
 * moment, it is finished at the next start: what comes in has its name only once it is whole, and the name says where
 * the old one goes. The old journal leaves first: beside another library SQLite would take it for that one's own.
 */

import { existsSync, mkdirSync, readdirSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { publishFile, syncFolder } from '../whole-file.ts';

export const LIBRARY_FILE = 'library.sqlite';

const INCOMING = /^incoming-(.+)\.sqlite$/;
const UNFINISHED = 'incoming-unfinished';
const JOURNAL_ENDINGS = ['-wal', '-shm', '-journal'] as const;

/** The folder in which a library is set aside, by the time it was. */
function asideFolder(stamp: string): string {
  return `set-aside-${stamp}`;
}

/**
 * `write` writes the library that comes in to the path it is given. Answers the name of the folder the old one is in.
 * When `write` throws, the old one is where it was.
 */
export function putInPlace(folder: string, stamp: string, write: (path: string) => void): string {
  const unfinished = join(folder, UNFINISHED);
  removeUnfinished(unfinished);
  try {
    write(unfinished);
    const free = freeStamp(folder, stamp);
    publishFile(unfinished, join(folder, `incoming-${free}.sqlite`));
    exchange(folder, free);
    return asideFolder(free);
  } finally {
    removeUnfinished(unfinished);
  }
}

/** The stamp, with a number when a library was set aside in the same second. */
function freeStamp(folder: string, stamp: string): string {
  for (let number = 1; ; number++) {
    const free = number === 1 ? stamp : `${stamp}-${number}`;
    if (!existsSync(join(folder, asideFolder(free)))) return free;
  }
}

/** Finishes what a program that was killed had begun. */
export function finishPutInPlace(folder: string): void {
  removeUnfinished(join(folder, UNFINISHED));
  for (const name of readdirSync(folder)) {
    const stamp = INCOMING.exec(name)?.[1];
    if (stamp !== undefined) exchange(folder, stamp);
  }
}

function exchange(folder: string, stamp: string): void {
  const aside = join(folder, asideFolder(stamp));
  mkdirSync(aside, { recursive: true });
  for (const ending of [...JOURNAL_ENDINGS, '']) {
    const from = join(folder, LIBRARY_FILE + ending);
    if (existsSync(from)) renameSync(from, join(aside, LIBRARY_FILE + ending));
  }
  syncFolder(aside);
  renameSync(join(folder, `incoming-${stamp}.sqlite`), join(folder, LIBRARY_FILE));
  syncFolder(folder);
}

function removeUnfinished(unfinished: string): void {
  for (const ending of ['', ...JOURNAL_ENDINGS]) rmSync(unfinished + ending, { force: true });
}
