/** Everything in a library that a player put there, read row by row, so that what cannot be read costs itself alone. */

import type { DatabaseSync } from 'node:sqlite';
import { z } from 'zod';
import type { Unread } from '../../../shared/bridge/index.ts';
import {
  type Device,
  deviceSchema,
  melodySchema,
  sessionRemarkSchema,
  type TakeDecision,
  type TakeFigures,
  type TakeSetUp,
  takeBreaksSchema,
  takeDecisionSchema,
  takeSetUpSchema,
  takeSourcesSchema,
} from '../../../shared/bridge/index.ts';
import type { SessionRemark } from '../../core/journal/index.ts';
import type { Melody } from '../../core/melody/index.ts';
import type { TakeBreak, TakeEvent, TakeSource } from '../../core/take/model.ts';
import type { CivilTime } from './civil-time.ts';
import { unpackEvents } from './event-codec.ts';
import { unpackFigures } from './figures-codec.ts';
import { createRowReader } from './row-reader.ts';

export interface KeptChart {
  readonly chartId: string;
  readonly title: string;
  readonly text: string;
  readonly updatedAtMs: number;
}

export interface KeptTake {
  readonly takeId: string;
  readonly startedAtMs: number;
  /** The wall clock there; null in a take from before it was kept. */
  readonly civilTime: CivilTime | null;
  readonly endMs: number;
  readonly note: string;
  readonly isFinished: boolean;
  readonly figures: TakeFigures | null;
  readonly setUp: TakeSetUp;
  readonly events: readonly TakeEvent[];
  readonly sources: readonly TakeSource[];
  readonly breaks: readonly TakeBreak[];
  readonly decision: TakeDecision | null;
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
  /** Remarks on sessions of practice. */
  remarks(): readonly SessionRemark[];
  /** The rows of takes, oldest first, each to be read by `take`. */
  takeRows(): readonly number[];
  /** The take of a row; null for a deleted one and for one that cannot be read. */
  take(row: number): KeptTake | null;
  /** What could not be read. It grows while the contents are read. */
  readonly unread: readonly Unread[];
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
const deletedRow = z.object({ chart_id: z.string(), deleted_at_ms: z.number().nullable() });
const tagRow = z.object({ chart_id: z.string(), tag: z.string() });
const melodyRow = z.object({ chart_id: z.string(), melody: jsonText.pipe(melodySchema) });
const settingRow = z.object({ name: z.string(), value: jsonText.pipe(z.json()) });
const deviceRow = z.object({ data: jsonText.pipe(deviceSchema) });
const remarkRow = z
  .object({ at_ms: z.number(), text: z.string() })
  .transform(({ at_ms: atMs, text }) => ({ atMs, text }))
  .pipe(sessionRemarkSchema);
const takeRow = z.object({
  take_id: z.string(),
  set_up: jsonText.pipe(z.record(z.string(), z.unknown())),
  chart_text: z.string(),
  started_at_ms: z.number(),
  end_ms: z.number(),
  note: z.string(),
  figures: z.string().nullable(),
  /** Absent from libraries older than it. */
  evidence: z.instanceof(Uint8Array).nullish(),
  finished: z.number(),
  deleted_at_ms: z.number().nullable(),
  /** These too. */
  day: z.number().nullish(),
  minute: z.number().nullish(),
  zone: z.string().nullish(),
  sources: jsonText.pipe(takeSourcesSchema).nullish(),
  breaks: jsonText.pipe(takeBreaksSchema).nullish(),
  decision: jsonText.pipe(takeDecisionSchema).nullish(),
});
const chunkRow = z.object({
  from_event: z.number(),
  events: z.number(),
  bytes: z.instanceof(Uint8Array),
  /** Absent from libraries older than it. */
  deflated: z.number().default(0),
});

function civilTimeIn({ day, minute, zone }: z.infer<typeof takeRow>): CivilTime | null {
  if (typeof day !== 'number' || typeof minute !== 'number') return null;
  return { day, minute, zone: zone ?? null };
}

/** The contents of an open library, sound or not. */
export function readContents(database: DatabaseSync): Contents {
  const unread: Unread[] = [];
  const reader = createRowReader(database, unread);

  /** As far as they can be read; a melody too many is better than one too few. */
  function deletedCharts(): ReadonlySet<string> {
    const ids = reader.allRows(deletedRow, 'charts', 'chart_id, deleted_at_ms');
    return new Set(
      ids.flatMap(({ chart_id, deleted_at_ms }) => (deleted_at_ms === null ? [] : [chart_id])),
    );
  }

  /** The events of a take up to the first part that cannot be read, and whether that is all of them. */
  function readEvents(takeId: string) {
    const events: TakeEvent[] = [];
    try {
      const chunks = database
        .prepare('SELECT * FROM take_chunks WHERE take_id = ? ORDER BY from_event')
        .iterate(takeId);
      for (const row of chunks) {
        const chunk = chunkRow.parse(row);
        const decoded = unpackEvents(chunk.bytes, chunk.deflated === 1);
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

  /** The figures of a take; without its evidence where that is damaged, null where all of it is. */
  function readFigures({ figures, evidence }: z.infer<typeof takeRow>): TakeFigures | null {
    for (const part of [evidence, null]) {
      try {
        return unpackFigures(figures, part);
      } catch {
        unread.push({ kind: 'figures' });
      }
    }
    return null;
  }

  return {
    unread,
    charts: () =>
      reader.rowNumbers('charts', 'chart_id', 'chart_id').flatMap((id) => {
        const row = reader.row(chartRow, 'charts', id);
        if (row === null) unread.push({ kind: 'chart', row: Number(id) });
        if (row === null || row.deleted_at_ms !== null) return [];
        const { chart_id: chartId, title, text, updated_at_ms: updatedAtMs } = row;
        return [{ chartId, title, text, updatedAtMs }];
      }),
    tags() {
      const tags = new Map<string, string[]>();
      for (const { chart_id, tag } of reader.allRows(tagRow, 'chart_tags', 'chart_id, tag')) {
        tags.set(chart_id, [...(tags.get(chart_id) ?? []), tag]);
      }
      return [...tags].map(([chartId, own]) => ({ chartId, tags: own }));
    },
    melodies() {
      const gone = deletedCharts();
      return reader
        .allRows(melodyRow, 'chart_melodies', 'chart_id, melody')
        .filter(({ chart_id }) => !gone.has(chart_id))
        .map(({ chart_id: chartId, melody }) => ({ chartId, melody }));
    },
    settings: () => reader.allRows(settingRow, 'settings', 'name, value'),
    devices: () => reader.allRows(deviceRow, 'devices', 'data').map(({ data }) => data),
    remarks: () => reader.allRows(remarkRow, 'session_remarks', 'at_ms, text'),
    takeRows: () => reader.rowNumbers('takes', 'started_at_ms, take_id', 'take_id'),
    take(id) {
      const row = reader.row(takeRow, 'takes', id);
      const setUp = row && takeSetUpSchema.safeParse({ ...row.set_up, chartText: row.chart_text });
      if (row === null || !setUp?.success) {
        unread.push({ kind: 'take', row: Number(id) });
        return null;
      }
      if (row.deleted_at_ms !== null) return null;
      const { events, isWhole } = readEvents(row.take_id);
      if (!isWhole) {
        unread.push({
          kind: 'takePart',
          startedAtMs: row.started_at_ms,
          chartTitle: setUp.data.chartTitle,
          events: events.length,
        });
      }
      return {
        takeId: row.take_id,
        startedAtMs: row.started_at_ms,
        civilTime: civilTimeIn(row),
        endMs: row.end_ms,
        note: row.note,
        isFinished: row.finished !== 0,
        // Figures of notes that are lost would say what nobody can hear any more.
        figures: isWhole ? readFigures(row) : null,
        setUp: setUp.data,
        events,
        sources: row.sources ?? [],
        breaks: row.breaks ?? [],
        decision: row.decision ?? null,
      };
    },
  };
}
