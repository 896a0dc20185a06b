/** The services over a library in memory, as both hosts have them, and the bridge a page would speak to them through. */

import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import type { Bridge, Push } from '../../shared/bridge/index.ts';
import { createTransfer } from '../../src/main/archive/index.ts';
import { type Answer, createServices, readShipped } from '../../src/main/services/index.ts';
import {
  createBackups,
  createLibrary,
  createTakeStore,
  openLibrary,
} from '../../src/main/store/index.ts';

const shipped = readShipped(join(import.meta.dirname, '..', '..', 'shared'));

/** In memory where a system has such a folder: a million inputs would wear a disk, and wait for it. */
const SCRATCH = existsSync('/dev/shm') ? '/dev/shm' : tmpdir();

export interface OpenedLibrary {
  services(name: string, request: unknown): Promise<Answer>;
  /** As over a transport: what goes over it is JSON. */
  readonly bridge: Bridge;
  readonly database: DatabaseSync;
  /** Where archives lie on their way. */
  readonly transferFolder: string;
  close(): void;
}

export function openInMemory(): OpenedLibrary {
  const database = openLibrary(':memory:');
  // Backups and archives are files, wherever the library is.
  const dataFolder = mkdtempSync(join(SCRATCH, 'fuzz-'));
  const transferFolder = join(dataFolder, 'transfer');
  const nowMs = (): number => 1_700_000_000_000;
  const listeners = new Set<(push: Push) => void>();
  const served = createServices({
    library: createLibrary(database),
    takes: createTakeStore(database),
    shipped,
    host: 'browser',
    version: '0.0.0',
    database,
    backups: createBackups(database, join(dataFolder, 'backups'), nowMs, () => {}),
    transfer: createTransfer(transferFolder),
    dataFolder,
    requireFile() {},
    notices: [],
    nowMs,
    push(push) {
      for (const listener of listeners) listener(push);
    },
  });
  const services: OpenedLibrary['services'] = (name, request) =>
    served.services(name, request, 'page');
  return {
    services,
    bridge: {
      ask: async (name, request) =>
        JSON.parse(JSON.stringify(await services(name, JSON.parse(JSON.stringify(request))))),
      onPush(listener, signal) {
        listeners.add(listener);
        signal.addEventListener('abort', () => listeners.delete(listener));
      },
      onConnection() {},
    },
    database,
    transferFolder,
    close() {
      database.close();
      rmSync(dataFolder, { recursive: true, force: true });
    },
  };
}
