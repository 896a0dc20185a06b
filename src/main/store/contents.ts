/**
 * Everything in a library that a player put there, read row by row, so that what cannot be read costs itself alone.
 * Rows are looked for from the front, from the back and by their index: a page that is damaged hides those on it.
 */

import type { DatabaseSync } from 'node:sqlite';
import { z } from 'zod';
import {
  type Device,
  deviceSchema,
  melodySchema,
  type TakeFigures,
  type TakeSetUp,
  takeFiguresSchema,
  takeSetUpSchema,
} from '../../../shared/bridge/index.ts';
import type { Melody } from '../../core/melody/index.ts';
import type { TakeEvent } from '../../core/take/model.ts';
import { decodeEvents } from './event-codec.ts';

export interface KeptChart {
  readonly chartId: string;
  readonly title: string;
  readonly text: string;
  readonly updatedAtMs: number;
}

export interface KeptTake {
  readonly takeId: string;
  readonly startedAtMs: number;
  readonly endMs: number;
  readonly note: string;
  readonly isFinished: boolean;
  readonly figures: TakeFigures | null;
  readonly setUp: TakeSetUp;
  readonly events: readonly TakeEvent[];
}

export interface KeptTags {
  readonly chartId: string;
  readonly tags: readonly string[];
}

export interface KeptMelody {
  readonly chartId: string;
  readonly melody: Melody;
}

export interface KeptSetting {
  readonly name: string;
  readonly value: z.infer<ReturnType<typeof z.json>>;
}

/** Deleted charts and takes are not among them. */
export interface Contents {
  charts(): readonly KeptChart[];
  tags(): readonly KeptTags[];
  /** Those of deleted charts are not among them. */
  melodies(): readonly KeptMelody[];
  settings(): readonly KeptSetting[];
  devices(): readonly Device[];
  /** The rows of takes, oldest first, each to be read by `take`. */
  takeRows(): readonly number[];
  /** The take of a row; null for a deleted one and for one that cannot be read. */
  take(row: number): KeptTake | null;
  /** What could not be read, in words. It grows while the contents are read. */
  readonly unread: readonly string[];
}

const jsonText = z.string().transform((text, context): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    context.addIssue('no JSON');
    return z.NEVER;
  }
});

const chartRow = z.object({
  chart_id: z.string(),
  title: z.string(),
  text: z.string(),
  updated_at_ms: z.number(),
  deleted_at_ms: z.number().nullable(),
});
const tagRow = z.object({ chart_id: z.string(), tag: z.string() });
const melodyRow = z.object({ chart_id: z.string(), melody: jsonText.pipe(melodySchema) });
const settingRow = z.object({ name: z.string(), value: jsonText.pipe(z.json()) });
const deviceRow = z.object({ data: jsonText.pipe(deviceSchema) });
const takeRow = z.object({
  take_id: z.string(),
  set_up: jsonText.pipe(z.record(z.string(), z.unknown())),
  chart_text: z.string(),
  started_at_ms: z.number(),
  end_ms: z.number(),
  note: z.string(),
  figures: z.union([z.null(), jsonText.pipe(takeFiguresSchema)]),
  finished: z.number(),
  deleted_at_ms: z.number().nullable(),
});
const chunkRow = z.object({
  from_event: z.number(),
  events: z.number(),
  bytes: z.instanceof(Uint8Array),
});

/** The contents of an open library, sound or not. */
export function readContents(database: DatabaseSync): Contents {
  const unread: string[] = [];
  const hasTable = (name: string): boolean => {
    try {
      return database.prepare('SELECT 1 FROM sqlite_master WHERE name = ?').get(name) !== undefined;
    } catch {
      // A table that can be read all the same is looked for below.
      return true;
    }
  };

  /** What a query gives until it fails; whether it did. */
  function scan(sql: string): { readonly rows: readonly unknown[]; readonly failed: boolean } {
    const rows: unknown[] = [];
    try {
      for (const row of database.prepare(sql).iterate()) rows.push(row);
      return { rows, failed: false };
    } catch {
      return { rows, failed: true };
    }
  }

  /** The row numbers of a table, each once; by more ways than one when the first is blocked. */
  function rowNumbers(table: string, order: string, index: string): readonly number[] {
    const found = new Set<number>();
    const take = (sql: string): boolean => {
      const { rows, failed } = scan(sql);
      for (const row of rows) found.add(z.object({ id: z.number() }).parse(row).id);
      return failed;
    };
    if (!take(`SELECT rowid AS id FROM ${table} NOT INDEXED ORDER BY ${order}`)) return [...found];
    take(`SELECT rowid AS id FROM ${table} NOT INDEXED ORDER BY rowid`);
    take(`SELECT rowid AS id FROM ${table} NOT INDEXED ORDER BY rowid DESC`);
    const blocked = take(`SELECT rowid AS id FROM ${table} ORDER BY ${index}`);
    if (blocked) {
      take(`SELECT rowid AS id FROM ${table} ORDER BY ${index} DESC`);
      unread.push(`Some ${table} may be hidden behind damaged pages.`);
    }
    return [...found];
  }

  function readRow<Row>(schema: z.ZodType<Row>, table: string, id: number): Row | null {
    try {
      return schema.parse(database.prepare(`SELECT * FROM ${table} WHERE rowid = ?`).get(id));
    } catch {
      return null;
    }
  }

  /** Rows of a small table without row numbers of its own. */
  function allRows<Row>(schema: z.ZodType<Row>, table: string, columns: string): readonly Row[] {
    if (!hasTable(table)) return [];
    const forward = scan(`SELECT ${columns} FROM ${table}`);
    if (forward.failed) unread.push(`Some ${table.replace('_', ' ')} cannot be read.`);
    return forward.rows.flatMap((row) => {
      const read = schema.safeParse(row);
      if (!read.success) unread.push(`Some ${table.replace('_', ' ')} cannot be read.`);
      return read.success ? [read.data] : [];
    });
  }

  /** As far as they can be read; a melody too many is better than one too few. */
  function deletedCharts(): ReadonlySet<string> {
    const { rows } = scan('SELECT chart_id FROM charts WHERE deleted_at_ms IS NOT NULL');
    return new Set(
      rows.flatMap((row) => {
        const read = z.object({ chart_id: z.string() }).safeParse(row);
        return read.success ? [read.data.chart_id] : [];
      }),
    );
  }

  /** The events of a take up to the first part that cannot be read, and whether that is all of them. */
  function readEvents(takeId: string) {
    const events: TakeEvent[] = [];
    try {
      const chunks = database
        .prepare(
          'SELECT from_event, events, bytes FROM take_chunks WHERE take_id = ? ORDER BY from_event',
        )
        .iterate(takeId);
      for (const row of chunks) {
        const chunk = chunkRow.parse(row);
        const decoded = decodeEvents(chunk.bytes);
        if (decoded === null || chunk.from_event !== events.length) {
          return { events, isWhole: false };
        }
        for (const event of decoded) events.push(event);
      }
      return { events, isWhole: true };
    } catch {
      return { events, isWhole: false };
    }
  }

  return {
    unread,
    charts: () =>
      rowNumbers('charts', 'chart_id', 'chart_id').flatMap((id) => {
        const row = readRow(chartRow, 'charts', id);
        if (row === null) unread.push(`The chart in row ${id} cannot be read.`);
        if (row === null || row.deleted_at_ms !== null) return [];
        const { chart_id: chartId, title, text, updated_at_ms: updatedAtMs } = row;
        return [{ chartId, title, text, updatedAtMs }];
      }),
    tags() {
      const tags = new Map<string, string[]>();
      for (const { chart_id, tag } of allRows(tagRow, 'chart_tags', 'chart_id, tag')) {
        tags.set(chart_id, [...(tags.get(chart_id) ?? []), tag]);
      }
      return [...tags].map(([chartId, own]) => ({ chartId, tags: own }));
    },
    melodies() {
      const gone = deletedCharts();
      return allRows(melodyRow, 'chart_melodies', 'chart_id, melody')
        .filter(({ chart_id }) => !gone.has(chart_id))
        .map(({ chart_id: chartId, melody }) => ({ chartId, melody }));
    },
    settings: () => allRows(settingRow, 'settings', 'name, value'),
    devices: () => allRows(deviceRow, 'devices', 'data').map(({ data }) => data),
    takeRows: () => rowNumbers('takes', 'started_at_ms, take_id', 'take_id'),
    take(id) {
      const row = readRow(takeRow, 'takes', id);
      const setUp = row && takeSetUpSchema.safeParse({ ...row.set_up, chartText: row.chart_text });
      if (row === null || !setUp?.success) {
        unread.push(`The take in row ${id} cannot be read.`);
        return null;
      }
      if (row.deleted_at_ms !== null) return null;
      const { events, isWhole } = readEvents(row.take_id);
      if (!isWhole) {
        const day = new Date(row.started_at_ms).toISOString().slice(0, 10);
        unread.push(
          `The take of ${day} on ${setUp.data.chartTitle} can be read for its first ${events.length} events.`,
        );
      }
      return {
        takeId: row.take_id,
        startedAtMs: row.started_at_ms,
        endMs: row.end_ms,
        note: row.note,
        isFinished: row.finished === 1,
        // Figures of notes that are lost would say what nobody can hear any more.
        figures: isWhole ? row.figures : null,
        setUp: setUp.data,
        events,
      };
    },
  };
}
