/**
 * A zip file whose entries are read one at a time, within limits: no entry unfolds to more than it says, nor to more
 * than a library can need, and none is ever written to the disk under a name of its own.
 */

import { statSync } from 'node:fs';
import { crc32 } from 'node:zlib';
import { type Entry, openPromise, type ZipFile } from 'yauzl';
import { ArchiveError, EXPORT_AGAIN } from './problem.ts';

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
  if (size > limits.archiveBytes) throw tooLarge('it is', size, limits.archiveBytes);
  const zip = await openPromise(file, {
    autoClose: false,
    lazyEntries: true,
    strictFileNames: true,
    validateEntrySizes: true,
  }).catch((error: unknown) => {
    throw new ArchiveError(`it is no zip file (${messageOf(error)}).`, EXPORT_AGAIN);
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
    throw new ArchiveError(
      `it holds ${zip.entryCount} files, more than the ${limits.entries} of any library.`,
      'Nothing was changed. Import an archive that this program wrote.',
    );
  }
  const entries = new Map<string, Entry>();
  let packed = 0;
  let unfolded = 0;
  try {
    for await (const entry of zip.eachEntry()) {
      const { fileName, compressedSize, uncompressedSize } = entry;
      if (fileName.endsWith('/')) continue;
      if (entries.has(fileName)) throw bomb(`${fileName} is in it twice`);
      if (entry.isEncrypted()) throw bomb(`${fileName} is locked with a password`);
      if (uncompressedSize > limits.entryBytes) {
        throw tooLarge(`${fileName} is`, uncompressedSize, limits.entryBytes);
      }
      const isSmall = uncompressedSize <= limits.smallBytes;
      if (!isSmall && uncompressedSize > limits.ratio * compressedSize) {
        throw bomb(`${fileName} unfolds to more than ${limits.ratio} times its size`);
      }
      packed += compressedSize;
      unfolded += uncompressedSize;
      // Entries that share their bytes would unfold to far more than the archive holds.
      if (packed > archiveBytes) throw bomb('its files overlap');
      if (unfolded > limits.allBytes) throw tooLarge('its files are', unfolded, limits.allBytes);
      entries.set(fileName, entry);
    }
  } catch (error) {
    if (error instanceof ArchiveError) throw error;
    throw new ArchiveError(`its list of files is spoilt (${messageOf(error)}).`, EXPORT_AGAIN);
  }
  return entries;
}

async function readEntry(zip: ZipFile, entry: Entry): Promise<Buffer> {
  const chunks: Buffer[] = [];
  try {
    for await (const chunk of await zip.openReadStreamPromise(entry)) chunks.push(chunk);
  } catch (error) {
    throw new ArchiveError(`${entry.fileName} is spoilt (${messageOf(error)}).`, EXPORT_AGAIN);
  }
  const bytes = Buffer.concat(chunks);
  if (crc32(bytes) !== entry.crc32) {
    throw new ArchiveError(`${entry.fileName} is spoilt (its sum is wrong).`, EXPORT_AGAIN);
  }
  return bytes;
}

function bomb(what: string): ArchiveError {
  return new ArchiveError(
    `${what}.`,
    'Nothing was changed. No archive of this program is made so: look where it comes from.',
  );
}

function tooLarge(what: string, bytes: number, limit: number): ArchiveError {
  const mebibytes = (size: number): number => Math.ceil(size / 2 ** 20);
  return new ArchiveError(
    `${what} ${mebibytes(bytes)} MiB large, more than ${mebibytes(limit)} MiB.`,
    'Nothing was changed. No archive of this program is made so: look where it comes from.',
  );
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
