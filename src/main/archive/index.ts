/** The library as an archive, out and in. The only door to this folder. */

import type { DatabaseSync } from 'node:sqlite';
import type { CallReply, ImportResult } from '../../../shared/bridge/index.ts';
import { cutShort } from '../../../shared/refusal-words.ts';
import { type Contents, mergeContents, timeStamp } from '../store/index.ts';
import { readArchive } from './read-archive.ts';
import type { Transfer } from './transfer.ts';
import { writeArchive } from './write-archive.ts';

export { LIMITS, type Limits } from './open-zip.ts';
export { readArchive } from './read-archive.ts';
export { createTransfer, type Transfer } from './transfer.ts';
export { writeArchive } from './write-archive.ts';

/** Exports what can be read of a library, to be fetched from the transfer. */
export async function exportArchive(
  contents: Contents,
  transfer: Transfer,
  program: string,
  nowMs: number,
): Promise<CallReply<'archive.export'>> {
  const name = `linekeeper-${timeStamp(nowMs)}.zip`;
  const { bytes, made } = await transfer.publish(name, (path) =>
    writeArchive(contents, path, program, nowMs),
  );
  return { ...made, name, bytes };
}

/** Imports an uploaded archive into the library, all of it or nothing; the upload is gone afterwards. */
export async function importArchive(
  database: DatabaseSync,
  transfer: Transfer,
  upload: string,
): Promise<ImportResult> {
  try {
    const { passedOver, uncounted, ...incoming } = await readArchive(transfer.uploadPath(upload));
    const result = mergeContents(database, incoming);
    const told = passedOver.map((path) => ({ kind: 'passedOver' as const, path: cutShort(path) }));
    return { ...result, told: [...result.told, ...told.slice(0, 20), ...uncounted.slice(0, 20)] };
  } finally {
    transfer.dropUpload(upload);
  }
}
