/** Writes an archive, one file after the other, so that a library of many years needs no more room than one take. */

import { createHash } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { ZipFile } from 'yazl';
import type { z } from 'zod';
import type { Unread } from '../../../shared/bridge/index.ts';
import { unreadWords } from '../../../shared/notice-words.ts';
import type { Contents, KeptTake } from '../store/index.ts';
import {
  ARCHIVE_SCHEMA,
  CHARTS,
  type chartsSchema,
  DEVICES,
  MANIFEST,
  MELODIES,
  type manifestSchema,
  REMARKS,
  SETTINGS,
  TAGS,
  TAKE_SCHEMA,
  type takeFileSchema,
} from './format.ts';
import { takeMidi } from './take-midi.ts';

export interface Written {
  readonly charts: number;
  readonly takes: number;
  readonly unread: readonly Unread[];
}

/** Writes what is in a library to a file. The event loop has its turn between any two takes. */
export async function writeArchive(
  contents: Contents,
  file: string,
  program: string,
  nowMs: number,
): Promise<Written> {
  const zip = new ZipFile();
  const written = pipeline(zip.outputStream, createWriteStream(file));
  const failed = new Promise<never>((_resolve, reject) => {
    zip.on('error', reject);
    written.catch(reject);
  });
  // Whoever waits for it below hears of it; nobody may be waiting just then.
  failed.catch(() => {});
  const sha256: Record<string, string> = Object.create(null);

  /** Adds a file; goes on when its turn to be written has come, so that no two wait in memory. */
  function add(path: string, bytes: Uint8Array, mtimeMs: number): Promise<void> {
    sha256[path] = createHash('sha256').update(bytes).digest('hex');
    const begun = new Promise<void>((resolve) => {
      const options = { mtime: new Date(mtimeMs), size: bytes.length };
      zip.addReadStreamLazy(path, options, (give) => {
        give(null, Readable.from([Buffer.from(bytes)]));
        resolve();
      });
    });
    return Promise.race([begun, failed]);
  }
  const addJson = (path: string, value: unknown, mtimeMs: number): Promise<void> =>
    add(path, new TextEncoder().encode(JSON.stringify(value)), mtimeMs);

  const names = createNames();
  const charts: z.infer<typeof chartsSchema>[number][] = [];
  for (const { chartId, title, text, updatedAtMs } of contents.charts()) {
    const name = `${names.name(slug(title), chartId)}.changes`;
    charts.push({ chartId, title, file: name, updatedAtMs });
    await add(`charts/${name}`, new TextEncoder().encode(text), updatedAtMs);
  }
  await addJson(CHARTS, charts, nowMs);
  await addJson(TAGS, contents.tags(), nowMs);
  await addJson(MELODIES, contents.melodies(), nowMs);
  const settings = Object.fromEntries(contents.settings().map(({ name, value }) => [name, value]));
  await addJson(SETTINGS, settings, nowMs);
  await addJson(DEVICES, contents.devices(), nowMs);
  await addJson(REMARKS, contents.remarks(), nowMs);

  let takes = 0;
  for (const row of contents.takeRows()) {
    const take = contents.take(row);
    if (take === null) continue;
    const day = new Date(take.startedAtMs).toISOString().slice(0, 10);
    const name = `takes/${names.name(`${day}-${slug(take.setUp.chartTitle)}`, take.takeId)}`;
    await addJson(`${name}.json`, takeFile(take), take.startedAtMs);
    await add(`${name}.mid`, takeMidi(take), take.startedAtMs);
    takes++;
  }

  const manifest: z.infer<typeof manifestSchema> = {
    schema: ARCHIVE_SCHEMA,
    program,
    exportedAtMs: nowMs,
    charts: charts.length,
    takes,
    unread: contents.unread.map(unreadWords),
    sha256,
  };
  const last = addJson(MANIFEST, manifest, nowMs);
  zip.end();
  await last;
  await Promise.race([written, failed]);
  return { charts: charts.length, takes, unread: contents.unread };
}

function takeFile(take: KeptTake): z.infer<typeof takeFileSchema> {
  return { schema: TAKE_SCHEMA, ...take };
}

/** A title as a part of a file's name that every system takes. */
function slug(title: string): string {
  const words = title.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '-');
  return words.replace(/^-+|-+$/g, '').slice(0, 60) || 'untitled';
}

/** Names that no other file of the archive has, also where capitals are not told apart. */
function createNames() {
  const used = new Set<string>();
  return {
    name(words: string, itsId: string): string {
      const safeId = itsId.replace(/[^\p{L}\p{N}]+/gu, '');
      const short = `${words}-${safeId.slice(0, 8)}`.toLowerCase();
      let name = short;
      for (let number = 2; used.has(name); number++) name = `${short}-${number}`;
      used.add(name);
      return name;
    },
  };
}
