/** The archive: the whole library as one zip of open files. Described in `docs/archive.md`. */

import { z } from 'zod';
import {
  chartText,
  chartTitle,
  deviceSchema,
  journalMs,
  melodySchema,
  sessionRemarkSchema,
  settingsSchema,
  tagsSchema,
  takeBreaksSchema,
  takeDecisionSchema,
  takeEventSchema,
  takeFiguresSchema,
  takeSetUpSchema,
  takeSourcesSchema,
  timeMs,
} from '../../../shared/bridge/index.ts';

export const ARCHIVE_SCHEMA = 'linekeeper.archive/1';
export const TAKE_SCHEMA = 'linekeeper.take/1';

export const MANIFEST = 'manifest.json';
export const CHARTS = 'charts.json';
export const TAGS = 'tags.json';
/** Absent from archives written before melodies were kept. */
export const MELODIES = 'melodies.json';
export const SETTINGS = 'settings.json';
export const DEVICES = 'devices.json';
/** Archives written before there was a journal have none. */
export const REMARKS = 'remarks.json';

const id = z.string().min(1).max(64);
const count = z.int().min(0);

export const manifestSchema = z.strictObject({
  schema: z.literal(ARCHIVE_SCHEMA),
  /** The version of the program that wrote it. */
  program: z.string().max(100),
  exportedAtMs: z.number().finite(),
  charts: count,
  takes: count,
  /** What the library had and nobody could read, in words. */
  unread: z.array(z.string()).readonly(),
  /** The SHA-256 of each file, in hexadecimal digits. A file without one is taken as it is. */
  sha256: z.record(z.string(), z.string().regex(/^[0-9a-f]{64}$/)),
});

export const chartsSchema = z
  .array(
    z.strictObject({
      chartId: id,
      title: chartTitle,
      /** The name of its text in the folder `charts`. */
      file: z.string().max(300),
      updatedAtMs: journalMs,
    }),
  )
  .readonly();

export const chartTextSchema = chartText;
export const tagListSchema = z.array(z.strictObject({ chartId: id, tags: tagsSchema })).readonly();
export const melodyListSchema = z
  .array(z.strictObject({ chartId: id, melody: melodySchema }))
  .readonly();
export const settingListSchema = settingsSchema;
export const deviceListSchema = z.array(deviceSchema).readonly();
export const remarkListSchema = z.array(sessionRemarkSchema).readonly();

export const takeFileSchema = z.strictObject({
  schema: z.literal(TAKE_SCHEMA),
  takeId: id,
  /** ms since 1970. */
  startedAtMs: journalMs,
  /** The wall clock there: days since 1970, minutes since midnight, the IANA zone. Absent from archives written before it was kept. */
  civilTime: z
    .strictObject({
      day: z.int(),
      minute: z.int().min(0).max(1439),
      zone: z.string().max(100).nullable(),
    })
    .nullable()
    .default(null),
  endMs: timeMs,
  note: z.string().max(10_000),
  /** False for a take that was being played. */
  isFinished: z.boolean(),
  /** For other programs: they are made anew from the events where the take comes in. */
  figures: takeFiguresSchema.nullable(),
  setUp: takeSetUpSchema,
  events: z.array(takeEventSchema).max(2_000_000).readonly(),
  /** Absent from archives written before they were kept. */
  sources: takeSourcesSchema.default([]),
  breaks: takeBreaksSchema.default([]),
  decision: takeDecisionSchema.nullable().default(null),
});

/** The folder a path of the archive is in, and whether it is one this program reads. */
export const CHART_PATH = /^charts\/[^/]+\.(?:changes|chart)$/;
export const TAKE_PATH = /^takes\/[^/]+\.json$/;
export const MIDI_PATH = /^takes\/[^/]+\.mid$/;
