/**
 * A zip file whose entries are read one at a time, within limits: no entry unfolds to more than it says, nor to more
 * than a library can need, and none is ever written to the disk under a name of its own.
 */

import { statSync } from 'node:fs';
import { crc32 } from 'node:zlib';
import { type Entry, openPromise, type ZipFile } from 'yauzl';
import { ArchiveError, messageOf } from './problem.ts';

export interface Limits {
  readonly archiveBytes: number;
  readonly entries: number;
  /** Of one entry, unfolded. */
  readonly entryBytes: number;
  /** Of all entries, unfolded. */
  readonly allBytes: number;
  /** How many times its packed size an entry may unfold to, if it is larger than `smallBytes`. */
  readonly ratio: number;
  readonly smallBytes: number;
}

/** Own choice: many times the practice of ten years, and less than a disk or a memory cannot hold. */
export const LIMITS: Limits = {
  archiveBytes: 4 * 2 ** 30,
  entries: 500_000,
  entryBytes: 384 * 2 ** 20,
  allBytes: 32 * 2 ** 30,
  ratio: 200,
  smallBytes: 2 ** 20,
};

export interface OpenedZip {
  /** Paths in the order of the archive. */
  readonly paths: readonly string[];
  /** The bytes of an entry; checked against its own sum. Null when there is none. */
  read(path: string): Promise<Buffer | null>;
  close(): void;
}

/** Opens a zip file and looks at every entry before any is unfolded. Throws an `ArchiveError`. */
export async function openZip(file: string, limits: Limits = LIMITS): Promise<OpenedZip> {
  const { size } = statSync(file);
  if (size > limits.archiveBytes) {
    throw new ArchiveError({
      kind: 'archiveTooLarge',
      bytes: size,
      mostBytes: limits.archiveBytes,
    });
  }
  const zip = await openPromise(file, {
    autoClose: false,
    lazyEntries: true,
    strictFileNames: true,
    validateEntrySizes: true,
  }).catch((error: unknown) => {
    throw new ArchiveError({ kind: 'notAZip', detail: messageOf(error) });
  });
  try {
    const entries = await listEntries(zip, size, limits);
    return {
      paths: [...entries.keys()],
      async read(path) {
        const entry = entries.get(path);
        return entry === undefined ? null : readEntry(zip, entry);
      },
      close: () => zip.close(),
    };
  } catch (error) {
    zip.close();
    throw error;
  }
}

async function listEntries(
  zip: ZipFile,
  archiveBytes: number,
  limits: Limits,
): Promise<ReadonlyMap<string, Entry>> {
  if (zip.entryCount > limits.entries) {
    throw new ArchiveError({ kind: 'tooManyFiles', files: zip.entryCount, most: limits.entries });
  }
  const entries = new Map<string, Entry>();
  let packed = 0;
  let unfolded = 0;
  try {
    for await (const entry of zip.eachEntry()) {
      const { fileName: path, compressedSize, uncompressedSize } = entry;
      if (path.endsWith('/')) continue;
      if (entries.has(path)) throw new ArchiveError({ kind: 'twice', path });
      if (entry.isEncrypted()) throw new ArchiveError({ kind: 'locked', path });
      if (uncompressedSize > limits.entryBytes) {
        throw tooLarge(path, uncompressedSize, limits.entryBytes);
      }
      const isSmall = uncompressedSize <= limits.smallBytes;
      if (!isSmall && uncompressedSize > limits.ratio * compressedSize) {
        throw new ArchiveError({ kind: 'unfolds', path, times: limits.ratio });
      }
      packed += compressedSize;
      unfolded += uncompressedSize;
      // Entries that share their bytes would unfold to far more than the archive holds.
      if (packed > archiveBytes) throw new ArchiveError({ kind: 'overlapping' });
      if (unfolded > limits.allBytes) throw tooLarge(null, unfolded, limits.allBytes);
      entries.set(path, entry);
    }
  } catch (error) {
    if (error instanceof ArchiveError) throw error;
    throw new ArchiveError({ kind: 'listSpoilt', detail: messageOf(error) });
  }
  return entries;
}

async function readEntry(zip: ZipFile, entry: Entry): Promise<Buffer> {
  const chunks: Buffer[] = [];
  try {
    for await (const chunk of await zip.openReadStreamPromise(entry)) chunks.push(chunk);
  } catch (error) {
    throw new ArchiveError({ kind: 'spoilt', path: entry.fileName, detail: messageOf(error) });
  }
  const bytes = Buffer.concat(chunks);
  if (crc32(bytes) !== entry.crc32) {
    throw new ArchiveError({ kind: 'spoilt', path: entry.fileName, detail: null });
  }
  return bytes;
}

function tooLarge(path: string | null, bytes: number, mostBytes: number): ArchiveError {
  return new ArchiveError({ kind: 'tooLarge', path, bytes, mostBytes });
}
