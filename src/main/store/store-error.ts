/** What the database can fail with, as refusals a player can act on. */

import type { Refusal } from '../../../shared/bridge/index.ts';

/** A failed call of the store; `refusal` is what the player is told. */
export class StoreError extends Error {
  readonly refusal: Refusal;

  constructor(refusal: Refusal) {
    super(refusal.message);
    this.refusal = refusal;
  }
}

/** Makes a refusal. */
export function refusal(code: Refusal['code'], message: string, remedy: string): Refusal {
  return { code, message, remedy };
}

/** SQLite's primary result codes that mean something to a player. Source: sqlite.org, "Result and Error Codes". */
const BY_RESULT_CODE = new Map<number, Refusal>([
  [5, refusal('internal', 'Another program is writing to the library.', 'Close it and try again.')],
  [
    8,
    refusal(
      'readOnly',
      'The library may only be read.',
      'Give yourself the right to write to its folder.',
    ),
  ],
  [
    10,
    refusal(
      'damaged',
      'The disk could not be read or written.',
      'Check that the disk has room and is sound, then start the program again.',
    ),
  ],
  [
    11,
    refusal(
      'damaged',
      'The library is damaged.',
      'Start the program again: it offers to restore a backup, and keeps the damaged file.',
    ),
  ],
  [
    13,
    refusal('diskFull', 'The disk is full.', 'Make room; what you play is kept here until then.'),
  ],
  [
    14,
    refusal(
      'notAllowed',
      'The library cannot be opened.',
      'Check that its folder exists and is yours.',
    ),
  ],
  [
    26,
    refusal(
      'damaged',
      'The library file is not a library.',
      'Start the program again: it offers to restore a backup, and keeps this file.',
    ),
  ],
]);

/** The extended code of a full disk met while laying out shared memory. Source as above, SQLITE_IOERR_SHMSIZE. */
const NO_ROOM_TO_SHARE = 4874;
const DISK_FULL = 13;

const NO_RIGHT = refusal(
  'notAllowed',
  'The folder of the library may not be used.',
  'Give yourself the right to read and write it.',
);

/** What the file system's error codes mean to a player. Source: POSIX, <errno.h>. */
const BY_SYSTEM_CODE = new Map<unknown, Refusal>([
  ['EACCES', NO_RIGHT],
  ['EPERM', NO_RIGHT],
  ['EROFS', refusal('readOnly', 'The disk may only be read.', 'Choose a folder on another disk.')],
  ['ENOSPC', refusal('diskFull', 'The disk is full.', 'Make room and try again.')],
  ['EDQUOT', refusal('diskFull', 'Your share of the disk is full.', 'Make room and try again.')],
  [
    'EFBIG',
    refusal('tooLarge', 'The disk takes no file so large.', 'Choose a folder on another disk.'),
  ],
  [
    'ENOENT',
    refusal('libraryGone', 'A file or folder of the library is gone.', 'Put it back where it was.'),
  ],
]);

/** What was thrown, with the place it happened at in its message, as a `StoreError`. */
export function errorAt(error: unknown, place: string): StoreError {
  if (error instanceof StoreError) return error;
  const { code, message, remedy } = refusalOf(error);
  return new StoreError(refusal(code, `${message} (${place})`, remedy));
}

/** The refusal for anything thrown by the database or the file system; `internal` for a slip of our own. */
export function refusalOf(error: unknown): Refusal {
  if (error instanceof StoreError) return error.refusal;
  if (error instanceof Error && 'errcode' in error && typeof error.errcode === 'number') {
    const code = error.errcode === NO_ROOM_TO_SHARE ? DISK_FULL : error.errcode & 0xff;
    const known = BY_RESULT_CODE.get(code);
    if (known !== undefined) return known;
  }
  if (error instanceof Error && 'code' in error) {
    const known = BY_SYSTEM_CODE.get(error.code);
    if (known !== undefined) return known;
  }
  const message = error instanceof Error ? error.message : String(error);
  return refusal(
    'internal',
    `Something went wrong inside: ${message}`,
    'Try again; report it if it stays.',
  );
}
