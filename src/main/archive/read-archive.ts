/** Reads and checks a whole archive before anything of it is stored. */

import { createHash } from 'node:crypto';
import { z } from 'zod';
import type { Uncounted } from '../../../shared/bridge/index.ts';
import { hasNote } from '../../core/take/has-note.ts';
import { asStored, type Incoming, packTake } from '../store/index.ts';
import { gradeStored, uncounted } from '../takes/index.ts';
import {
  ARCHIVE_SCHEMA,
  CHART_PATH,
  CHARTS,
  chartsSchema,
  chartTextSchema,
  DEVICES,
  deviceListSchema,
  MANIFEST,
  MELODIES,
  MIDI_PATH,
  manifestSchema,
  melodyListSchema,
  REMARKS,
  remarkListSchema,
  SETTINGS,
  settingListSchema,
  TAGS,
  TAKE_PATH,
  tagListSchema,
  takeFileSchema,
} from './format.ts';
import { LIMITS, type Limits, type OpenedZip, openZip } from './open-zip.ts';
import { ArchiveError, messageOf } from './problem.ts';

export interface ReadArchive extends Incoming {
  /** Files that are no part of the format, and were left where they are. */
  readonly passedOver: readonly string[];
  /** Takes that are kept and do not count, in words. */
  readonly uncounted: readonly Uncounted[];
}

const ONE_FILES: readonly string[] = [
  ...[MANIFEST, CHARTS, TAGS, MELODIES, SETTINGS, DEVICES, REMARKS],
];

/** Reads an archive. Throws an `ArchiveError` that names the file in it and what to do. */
export async function readArchive(file: string, limits: Limits = LIMITS): Promise<ReadArchive> {
  const zip = await openZip(file, limits);
  try {
    return await readAll(zip);
  } finally {
    zip.close();
  }
}

async function readAll(zip: OpenedZip): Promise<ReadArchive> {
  const manifest = await readManifest(zip);
  const sums = new Map(Object.entries(manifest.sha256));

  async function bytesOf(path: string): Promise<Buffer> {
    const bytes = await zip.read(path);
    if (bytes === null) throw new ArchiveError({ kind: 'lacks', path });
    const sum = sums.get(path);
    if (sum !== undefined && sum !== createHash('sha256').update(bytes).digest('hex')) {
      throw new ArchiveError({ kind: 'changed', path, manifest: MANIFEST });
    }
    return bytes;
  }
  async function read<Value>(path: string, schema: z.ZodType<Value>): Promise<Value> {
    return parse(path, await bytesOf(path), schema);
  }

  for (const path of sums.keys()) {
    if (!zip.paths.includes(path)) throw new ArchiveError({ kind: 'lacks', path });
  }
  const charts: Incoming['charts'][number][] = [];
  for (const { file, ...chart } of await read(CHARTS, chartsSchema)) {
    const path = `charts/${file}`;
    if (!CHART_PATH.test(path)) {
      throw new ArchiveError({ kind: 'noChart', path: CHARTS, file });
    }
    const text = decodeText(path, await bytesOf(path));
    charts.push({ ...chart, text: check(path, text, chartTextSchema) });
  }
  const settings = await read(SETTINGS, settingListSchema);
  const takes: Incoming['takes'][number][] = [];
  const notCounted: Uncounted[] = [];
  for (const path of zip.paths.filter((one) => TAKE_PATH.test(one))) {
    const { schema: _schema, ...take } = await read(path, takeFileSchema);
    const events = asStored(take.events);
    // It was begun and nothing had been played yet.
    if (!take.isFinished && !hasNote(events)) continue;
    const graded = gradeStored(take.setUp, { ...take, events }, take.decision);
    if (graded.figures === null) notCounted.push(uncounted({ ...take, ...take.setUp }, graded.why));
    takes.push(packTake({ ...take, events, figures: graded.figures }));
  }
  return {
    charts,
    tags: await read(TAGS, tagListSchema),
    melodies: zip.paths.includes(MELODIES) ? await read(MELODIES, melodyListSchema) : [],
    settings: Object.entries(settings).map(([name, value]) => ({ name, value })),
    devices: await read(DEVICES, deviceListSchema),
    remarks: zip.paths.includes(REMARKS) ? await read(REMARKS, remarkListSchema) : [],
    takes,
    uncounted: notCounted,
    passedOver: zip.paths.filter(
      (path) =>
        !ONE_FILES.includes(path) &&
        ![CHART_PATH, TAKE_PATH, MIDI_PATH].some((pattern) => pattern.test(path)),
    ),
  };
}

async function readManifest(zip: OpenedZip): Promise<z.infer<typeof manifestSchema>> {
  const bytes = await zip.read(MANIFEST);
  if (bytes === null) {
    throw new ArchiveError({ kind: 'noManifest', path: MANIFEST });
  }
  const named = parse(MANIFEST, bytes, z.object({ schema: z.string() }));
  if (named.schema !== ARCHIVE_SCHEMA) {
    throw new ArchiveError({
      kind: 'otherSchema',
      schema: named.schema.slice(0, 60),
      known: ARCHIVE_SCHEMA,
    });
  }
  return parse(MANIFEST, bytes, manifestSchema);
}

function parse<Value>(path: string, bytes: Uint8Array, schema: z.ZodType<Value>): Value {
  const text = decodeText(path, bytes);
  let data: unknown;
  try {
    data = HALF_CHARACTER.test(text) ? JSON.parse(text, wellFormed) : JSON.parse(text);
  } catch (error) {
    throw new ArchiveError({ kind: 'noJson', path, detail: messageOf(error) });
  }
  return check(path, data, schema);
}

/** Half of a character that JSON can write and no database can keep. */
const HALF_CHARACTER = /\\ud[89a-f]/i;

/** Puts the sign for what cannot be read in the place of halves of characters, in texts and in names of fields. */
function wellFormed(_name: string, value: unknown): unknown {
  if (typeof value === 'string') return value.toWellFormed();
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, inner]) => [name.toWellFormed(), inner]),
  );
}

function check<Value>(path: string, data: unknown, schema: z.ZodType<Value>): Value {
  const read = safeParse(path, data, schema);
  if (read.success) return read.data;
  const issue = read.error.issues[0];
  const place = issue?.path.join('.') ?? '';
  throw new ArchiveError({ kind: 'misshapen', path, place, detail: issue?.message ?? '' });
}

function safeParse<Value>(path: string, data: unknown, schema: z.ZodType<Value>) {
  try {
    return schema.safeParse(data);
  } catch (error) {
    if (error instanceof RangeError) {
      throw new ArchiveError({ kind: 'nestedTooDeep', path });
    }
    throw error;
  }
}

function decodeText(path: string, bytes: Uint8Array): string {
  try {
    // A byte order mark is part of a text that has one.
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new ArchiveError({ kind: 'noUtf8', path });
  }
}
