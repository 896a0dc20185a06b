/** What both hosts are built on: the data folder for ourselves alone, the library in it, and the services over it. */

import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { HostNotice, Push } from '../../shared/bridge/index.ts';
import { createTransfer, type Transfer } from './archive/index.ts';
import { type FolderLock, lockFolder } from './folder-lock.ts';
import {
  createRepairServices,
  createServices,
  readShipped,
  type Served as ServedCalls,
} from './services/index.ts';
import {
  beginNewLibrary,
  createBackups,
  createLibrary,
  createTakeStore,
  DamageError,
  errorAt,
  findSoundBackup,
  finishPutInPlace,
  LARGEST_SET_BACK_MS,
  libraryFile,
  openLibrary,
  refuseEmptied,
  restoreBackup,
  type TakeStore,
  watchFile,
} from './store/index.ts';

export interface ProgramSettings {
  readonly dataFolder: string;
  readonly sharedFolder: string;
  readonly host: 'electron' | 'browser';
  readonly version: string;
  /** Tells every window. */
  readonly push: (push: Push) => void;
  /** The computer's clock, ms since 1970, unless another is given. */
  readonly nowMs?: () => number;
}

export interface Program extends ServedCalls {
  /** Makes a backup if anything was changed, and lets go of the folder. May be called twice. */
  close(): Promise<void>;
}

/** Quitting does not wait longer than this for a backup: the disk may be one that does not answer. */
const LONGEST_LAST_BACKUP_MS = 30_000;

/** What is being served: a library, or the repair of one. */
interface Served extends ServedCalls {
  close(): Promise<void>;
}

/**
 * Opens the program, or answers null when another start has the folder. A damaged library is opened for repair; throws
 * for one that cannot be used in any way.
 */
export function openProgram(settings: ProgramSettings): Program | null {
  try {
    // What somebody plays and writes is for no other user of the machine.
    mkdirSync(settings.dataFolder, { recursive: true, mode: 0o700 });
    const lock = lockFolder(settings.dataFolder);
    return lock === null ? null : openLocked(settings, lock);
  } catch (error) {
    throw errorAt(error, settings.dataFolder);
  }
}

function openLocked(settings: ProgramSettings, lock: FolderLock): Program {
  try {
    let served = open(settings, (repaired) => {
      served = repaired;
    });
    let closing: Promise<void> | null = null;
    return {
      services: (name, request, client) => served.services(name, request, client),
      leave: (client) => served.leave(client),
      close() {
        closing ??= served.close().finally(() => lock.release());
        return closing;
      },
    };
  } catch (error) {
    lock.release();
    throw error;
  }
}

/** `onRepaired` is told what is served in place of a repair once that is done. */
function open(settings: ProgramSettings, onRepaired: (served: Served) => void): Served {
  try {
    return openSound(settings);
  } catch (error) {
    if (!(error instanceof DamageError)) throw error;
    return openForRepair(settings, error, onRepaired);
  }
}

function backupFolder({ dataFolder }: ProgramSettings): string {
  return join(dataFolder, 'backups');
}

function transferOf({ dataFolder }: ProgramSettings): Transfer {
  return createTransfer(join(dataFolder, 'transfer'));
}

function openSound(settings: ProgramSettings): Served {
  const { dataFolder, nowMs = Date.now } = settings;
  const file = libraryFile(dataFolder);
  finishPutInPlace(dataFolder);
  refuseEmptied(file, backupFolder(settings));
  const database = openLibrary(file, backupFolder(settings));
  const takes = createTakeStore(database);
  const backups = createBackups(database, backupFolder(settings), nowMs, () => {
    for (const what of ['library', 'host'] as const) settings.push({ kind: 'changed', what });
  });
  const calls = createServices({
    ...settings,
    library: createLibrary(database),
    database,
    takes,
    transfer: transferOf(settings),
    shipped: readShipped(settings.sharedFolder),
    backups,
    requireFile: watchFile(file),
    notices: clockNotices(takes, nowMs()),
    nowMs,
  });
  void backups.makeWhenDue();
  return {
    ...calls,
    async close() {
      const late = AbortSignal.timeout(LONGEST_LAST_BACKUP_MS);
      const tooLate = new Promise((resolve) => late.addEventListener('abort', resolve));
      await Promise.race([backups.makeWhenChanged(), tooLate]);
      database.close();
    },
  };
}

function clockNotices(takes: TakeStore, nowMs: number): readonly HostNotice[] {
  const latestMs = takes.latestStartMs();
  if (latestMs === null || latestMs - nowMs < LARGEST_SET_BACK_MS) return [];
  return [{ kind: 'clockBehind', nowMs, latestTakeMs: latestMs }];
}

function openForRepair(
  settings: ProgramSettings,
  damage: DamageError,
  onRepaired: (served: Served) => void,
): Served {
  const { dataFolder, nowMs = Date.now } = settings;
  const repaired = (aside: string): string => {
    onRepaired(open(settings, onRepaired));
    return aside;
  };
  const calls = createRepairServices({
    ...settings,
    damage,
    file: libraryFile(dataFolder),
    transfer: transferOf(settings),
    nowMs,
    findBackups: () => findSoundBackup(backupFolder(settings)),
    restore: (name) => repaired(restoreBackup(dataFolder, backupFolder(settings), name, nowMs())),
    beginNew: () => repaired(beginNewLibrary(dataFolder, nowMs())),
  });
  return { ...calls, close: () => Promise.resolve() };
}
