/** What both hosts are built on: the data folder for ourselves alone, the library in it, and the services over it. */

import { randomUUID } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Push } from '../../shared/bridge/index.ts';
import { lockFolder } from './folder-lock.ts';
import { createServices, readShipped, type Services } from './services/index.ts';
import { createLibrary, createTakeStore, openLibrary } from './store/index.ts';

export interface ProgramSettings {
  readonly dataFolder: string;
  readonly sharedFolder: string;
  readonly host: 'electron' | 'browser';
  readonly version: string;
  /** Tells every window. */
  readonly push: (push: Push) => void;
}

export interface Program {
  readonly services: Services;
  close(): void;
}

/** Opens the program, or answers null when another start has the folder. Throws for a library it cannot use. */
export function openProgram(settings: ProgramSettings): Program | null {
  // What somebody plays and writes is for no other user of the machine.
  mkdirSync(settings.dataFolder, { recursive: true, mode: 0o700 });
  const lock = lockFolder(settings.dataFolder);
  if (lock === null) return null;
  try {
    const database = openLibrary(join(settings.dataFolder, 'library.sqlite'));
    const services = createServices({
      library: createLibrary(database),
      takes: createTakeStore(database, randomUUID()),
      shipped: readShipped(settings.sharedFolder),
      host: settings.host,
      version: settings.version,
      nowMs: Date.now,
      push: settings.push,
    });
    return {
      services,
      close() {
        database.close();
        lock.release();
      },
    };
  } catch (error) {
    lock.release();
    throw error;
  }
}
