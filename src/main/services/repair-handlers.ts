/** What the renderer may ask for while the library is damaged: how it is, and what is to become of it. */

import { CALLS, type CallName } from '../../../shared/bridge/index.ts';
import { type DamageError, type FoundBackups, openDamaged, StoreError } from '../store/index.ts';
import { createExportHandlers } from './archive-handlers.ts';
import type { Handlers, ServiceParts } from './handlers.ts';

export interface RepairParts
  extends Pick<ServiceParts, 'host' | 'version' | 'dataFolder' | 'transfer' | 'nowMs'> {
  /** The damaged library. */
  readonly file: string;
  readonly damage: DamageError;
  findBackups(): FoundBackups;
  /** Both answer the folder the damaged library is in from then on. */
  restore(name: string): string;
  beginNew(): string;
}

/** The functions of all calls; those that need a library are refused with what is wrong with it. */
export function createRepairHandlers(parts: RepairParts): Handlers {
  const { damage } = parts;
  const refused = (): never => {
    throw new StoreError(damage.refusal);
  };
  // Every call is in the table, so the record is whole.
  const refuseAll = Object.fromEntries(
    (Object.keys(CALLS) as CallName[]).map((name) => [name, refused]),
  ) as Record<CallName, () => never>;
  return {
    ...refuseAll,
    'host.info': () => ({ host: parts.host, version: parts.version, notices: [] }),
    'library.state': () => {
      const { newest, damaged } = parts.findBackups();
      return {
        kind: 'damaged',
        folder: parts.dataFolder,
        what: damage.refusal,
        backup: newest && {
          name: newest.name,
          madeAtMs: newest.madeAtMs,
          charts: newest.charts,
          takes: newest.takes,
        },
        damagedBackups: damaged,
      };
    },
    'library.restore': ({ name }) => ({ folder: parts.restore(name) }),
    'library.beginNew': () => ({ folder: parts.beginNew() }),
    ...createExportHandlers(parts, async (work) => {
      const database = openDamaged(parts.file);
      try {
        return await work(database);
      } finally {
        database.close();
      }
    }),
  };
}
