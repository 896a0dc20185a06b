/** What the database can fail with, as refusals a player can act on. */

import type { PLAIN_REFUSALS, Refusal, SystemCause } from '../../../shared/bridge/index.ts';
import { tellRefusal } from '../../../shared/refusal-words.ts';

/** A failed call of the store; `refusal` is what the player is told. Its message is for the terminal. */
export class StoreError extends Error {
  readonly refusal: Refusal;

  constructor(refusal: Refusal) {
    super(tellRefusal(refusal).message);
    this.refusal = refusal;
  }
}

/** Makes a refusal. */
export function refusal(code: Refusal['code'], why: Refusal['why']): Refusal {
  return { code, why };
}

/** Makes one that says all by its kind. */
export function plainRefusal(
  code: Refusal['code'],
  what: (typeof PLAIN_REFUSALS)[number],
): Refusal {
  return refusal(code, { kind: 'plain', what });
}

type System = readonly [Refusal['code'], SystemCause];

/** SQLite's primary result codes that mean something to a player. Source: sqlite.org, "Result and Error Codes". */
const BY_RESULT_CODE = new Map<number, System>([
  [5, ['internal', 'otherWriter']],
  [8, ['readOnly', 'databaseReadOnly']],
  [10, ['damaged', 'diskError']],
  [11, ['damaged', 'databaseCorrupt']],
  [13, ['diskFull', 'databaseFull']],
  [14, ['notAllowed', 'cannotOpen']],
  [26, ['damaged', 'notADatabase']],
]);

/** The extended code of a full disk met while laying out shared memory. Source as above, SQLITE_IOERR_SHMSIZE. */
const NO_ROOM_TO_SHARE = 4874;
const DISK_FULL = 13;

/** What the file system's error codes mean to a player. Source: POSIX, <errno.h>. */
const BY_SYSTEM_CODE = new Map<unknown, System>([
  ['EACCES', ['notAllowed', 'noRight']],
  ['EPERM', ['notAllowed', 'noRight']],
  ['EROFS', ['readOnly', 'diskReadOnly']],
  ['ENOSPC', ['diskFull', 'diskFull']],
  ['EDQUOT', ['diskFull', 'quotaFull']],
  ['EFBIG', ['tooLarge', 'fileTooLarge']],
  ['ENOENT', ['libraryGone', 'fileGone']],
]);

/** What was thrown as a `StoreError`; what came from the database or a disk names the place it happened at. */
export function errorAt(error: unknown, place: string): StoreError {
  return error instanceof StoreError ? error : new StoreError(thrown(error, place));
}

/** The refusal for anything thrown by the database or the file system; `internal` for a slip of our own. */
export function refusalOf(error: unknown): Refusal {
  return error instanceof StoreError ? error.refusal : thrown(error, null);
}

/** Of a message of another program so much is told. */
const LONGEST_DETAIL = 1000;

function thrown(error: unknown, place: string | null): Refusal {
  const known = systemOf(error);
  if (known !== undefined) return refusal(known[0], { kind: 'system', cause: known[1], place });
  const detail = error instanceof Error ? error.message : String(error);
  return refusal('internal', { kind: 'internal', detail: detail.slice(0, LONGEST_DETAIL), place });
}

function systemOf(error: unknown): System | undefined {
  if (!(error instanceof Error)) return undefined;
  if ('errcode' in error && typeof error.errcode === 'number') {
    const code = error.errcode === NO_ROOM_TO_SHARE ? DISK_FULL : error.errcode & 0xff;
    const known = BY_RESULT_CODE.get(code);
    if (known !== undefined) return known;
  }
  return 'code' in error ? BY_SYSTEM_CODE.get(error.code) : undefined;
}
