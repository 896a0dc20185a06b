/**
 * Archives on their way between the library and the page, in pieces: a page saves and opens files by the browser's or
 * the desktop's own dialogs, and no call of the bridge carries ten years at once. What lies here is a copy.
 */

import { randomUUID } from 'node:crypto';
import { appendFileSync, closeSync, openSync, readSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { makeFolder, plainRefusal, publishFile, StoreError } from '../store/index.ts';

/** Of one piece, before it is written in base64. */
export const LARGEST_PIECE_BYTES = 4 * 2 ** 20;

const EXPORTED = /^linekeeper-[0-9TZ-]+\.zip$/;

export interface Transfer {
  /** Makes a file by `write` and gives it its name once it is whole; answers its size and what `write` did. */
  publish<Made>(
    name: string,
    write: (path: string) => Promise<Made>,
  ): Promise<{ readonly bytes: number; readonly made: Made }>;
  /** A piece of a published file, from an offset. */
  read(name: string, from: number): Uint8Array;
  release(name: string): void;
  /** Adds a piece to the upload of an id; `from` is the size of it before. Answers its size. */
  put(upload: string, from: number, bytes: Uint8Array): number;
  /** Where an upload lies. */
  uploadPath(upload: string): string;
  dropUpload(upload: string): void;
}

/** The transfers of a data folder. What another run left in it is removed. */
export function createTransfer(folder: string): Transfer {
  rmSync(folder, { recursive: true, force: true });
  const uploadPath = (upload: string): string => {
    if (/^[a-z0-9-]{1,64}$/.test(upload)) return join(folder, `upload-${upload}`);
    throw gone();
  };
  const exportPath = (name: string): string => {
    if (EXPORTED.test(name)) return join(folder, name);
    throw gone();
  };

  return {
    async publish(name, write) {
      makeFolder(folder);
      const unfinished = join(folder, `unfinished-${randomUUID()}`);
      try {
        const made = await write(unfinished);
        publishFile(unfinished, exportPath(name));
        return { bytes: statSync(exportPath(name)).size, made };
      } finally {
        rmSync(unfinished, { force: true });
      }
    },
    read(name, from) {
      const path = exportPath(name);
      if (statSync(path, { throwIfNoEntry: false }) === undefined) throw gone();
      const handle = openSync(path, 'r');
      try {
        const piece = new Uint8Array(LARGEST_PIECE_BYTES);
        return piece.subarray(0, readSync(handle, piece, 0, piece.length, from));
      } finally {
        closeSync(handle);
      }
    },
    release: (name) => rmSync(exportPath(name), { force: true }),
    put(upload, from, bytes) {
      const path = uploadPath(upload);
      makeFolder(folder);
      const size = statSync(path, { throwIfNoEntry: false })?.size ?? 0;
      // A piece that is sent again is recognised.
      if (size === from + bytes.length) return size;
      if (size !== from) {
        throw new StoreError(plainRefusal('badRequest', 'pieceMissing'));
      }
      appendFileSync(path, bytes);
      return size + bytes.length;
    },
    uploadPath(upload) {
      const path = uploadPath(upload);
      if (statSync(path, { throwIfNoEntry: false }) === undefined) throw gone();
      return path;
    },
    dropUpload: (upload) => rmSync(uploadPath(upload), { force: true }),
  };
}

function gone(): StoreError {
  return new StoreError(plainRefusal('notFound', 'noSuchArchive'));
}
