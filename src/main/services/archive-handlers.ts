/** An archive out of the library and into it, for a sound one and for one that is damaged. */

import type { DatabaseSync } from 'node:sqlite';
import { exportArchive, importArchive, type Transfer } from '../archive/index.ts';
import { readContents } from '../store/index.ts';
import type { Handlers } from './handlers.ts';

export interface ArchiveParts {
  readonly transfer: Transfer;
  readonly version: string;
  readonly nowMs: () => number;
}

/** Exports by a connection of its own choosing. */
export function createExportHandlers(
  { transfer, version, nowMs }: ArchiveParts,
  withDatabase: <Result>(work: (database: DatabaseSync) => Promise<Result>) => Promise<Result>,
): Pick<Handlers, 'archive.export' | 'archive.read' | 'archive.release'> {
  return {
    'archive.export': () =>
      withDatabase((database) => exportArchive(readContents(database), transfer, version, nowMs())),
    'archive.read': ({ name, from }) => ({
      base64: Buffer.from(transfer.read(name, from)).toString('base64'),
    }),
    'archive.release': ({ name }) => {
      transfer.release(name);
      return {};
    },
  };
}

/** `onImported` is called when something was. */
export function createImportHandlers(
  transfer: Transfer,
  database: DatabaseSync,
  onImported: () => void,
): Pick<Handlers, 'archive.put' | 'archive.import'> {
  return {
    'archive.put': ({ upload, from, base64 }) => ({
      size: transfer.put(upload, from, Buffer.from(base64, 'base64')),
    }),
    'archive.import': async ({ upload }) => {
      const result = await importArchive(database, transfer, upload);
      onImported();
      return result;
    },
  };
}
