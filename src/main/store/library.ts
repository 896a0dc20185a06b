/** Charts, settings and devices in the library. */

import { randomUUID } from 'node:crypto';
import type { DatabaseSync } from 'node:sqlite';
import {
  type Device,
  deviceSchema,
  melodySchema,
  type Settings,
  settingsSchema,
} from '../../../shared/bridge/index.ts';
import type { Melody } from '../../core/melody/index.ts';
import { transaction } from './open-store.ts';
import { createPracticeForms } from './practice-forms.ts';
import { plainRefusal, StoreError } from './store-error.ts';

export interface StoredChart {
  readonly chartId: string;
  readonly title: string;
  readonly text: string;
}

export interface NewChart extends Omit<StoredChart, 'chartId'> {
  readonly melody: Melody | null;
}

export interface Library {
  charts(): readonly StoredChart[];
  /** Saves under an id, or a new one for null; answers the id. */
  saveChart(chartId: string | null, title: string, text: string, nowMs: number): string;
  /** Saves new charts at once, with their melodies: all of them, or none; answers their ids in order. */
  addCharts(charts: readonly NewChart[], nowMs: number): readonly string[];
  setChartDeleted(chartId: string, deletedAtMs: number | null): void;
  /** The tags of every chart that has some, those that come with the program too. */
  tags(): ReadonlyMap<string, readonly string[]>;
  setTags(chartId: string, tags: readonly string[]): void;
  /** The melody kept beside a chart, or null. */
  melody(chartId: string): Melody | null;
  setMelody(chartId: string, melody: Melody | null): void;
  settings(): Settings;
  saveSettings(values: Settings): void;
  devices(): readonly Device[];
  /** Remembers a keyboard with an output; its split and channel hold with every output it is remembered with. */
  saveDevice(device: Device): void;
}

/** The charts, settings and devices of an open library. */
export function createLibrary(database: DatabaseSync): Library {
  const library: Library = {
    charts: () =>
      database
        .prepare(
          'SELECT chart_id, title, text FROM charts WHERE deleted_at_ms IS NULL ORDER BY title',
        )
        .all()
        .map((row) => ({
          chartId: String(row['chart_id']),
          title: String(row['title']),
          text: String(row['text']),
        })),
    saveChart(chartId, title, text, nowMs) {
      const id = chartId ?? randomUUID();
      return transaction(database, () => {
        database
          .prepare(
            `INSERT INTO charts (chart_id, title, text, updated_at_ms) VALUES (?, ?, ?, ?)
             ON CONFLICT (chart_id) DO UPDATE SET title = excluded.title, text = excluded.text,
               updated_at_ms = excluded.updated_at_ms`,
          )
          .run(id, title, text, nowMs);
        createPracticeForms(database).settleChart(id);
        return id;
      });
    },
    addCharts: (charts, nowMs) =>
      transaction(database, () =>
        charts.map(({ title, text, melody }) => {
          const chartId = library.saveChart(null, title, text, nowMs);
          if (melody !== null) library.setMelody(chartId, melody);
          return chartId;
        }),
      ),
    tags() {
      const tags = new Map<string, string[]>();
      for (const row of database.prepare('SELECT chart_id, tag FROM chart_tags').all()) {
        const chartId = String(row['chart_id']);
        tags.set(chartId, [...(tags.get(chartId) ?? []), String(row['tag'])]);
      }
      return tags;
    },
    setTags(chartId, tags) {
      transaction(database, () => {
        database.prepare('DELETE FROM chart_tags WHERE chart_id = ?').run(chartId);
        const add = database.prepare('INSERT INTO chart_tags (chart_id, tag) VALUES (?, ?)');
        for (const tag of new Set(tags)) add.run(chartId, tag);
      });
    },
    melody(chartId) {
      const row = database
        .prepare('SELECT melody FROM chart_melodies WHERE chart_id = ?')
        .get(chartId);
      return row === undefined ? null : melodySchema.parse(JSON.parse(String(row['melody'])));
    },
    setMelody(chartId, melody) {
      if (melody === null) {
        database.prepare('DELETE FROM chart_melodies WHERE chart_id = ?').run(chartId);
        return;
      }
      database
        .prepare(
          `INSERT INTO chart_melodies (chart_id, melody) VALUES (?, ?)
           ON CONFLICT (chart_id) DO UPDATE SET melody = excluded.melody`,
        )
        .run(chartId, JSON.stringify(melody));
    },
    setChartDeleted(chartId, deletedAtMs) {
      const { changes } = database
        .prepare('UPDATE charts SET deleted_at_ms = ? WHERE chart_id = ?')
        .run(deletedAtMs, chartId);
      if (Number(changes) === 0) {
        throw new StoreError(plainRefusal('notFound', 'noSuchChart'));
      }
    },
    settings() {
      const rows = database.prepare('SELECT name, value FROM settings').all();
      return settingsSchema.parse(
        Object.fromEntries(rows.map((row) => [row['name'], JSON.parse(String(row['value']))])),
      );
    },
    saveSettings(values) {
      const save = database.prepare(
        'INSERT INTO settings (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value',
      );
      transaction(database, () => {
        for (const [name, value] of Object.entries(values)) save.run(name, JSON.stringify(value));
      });
    },
    devices: () =>
      database
        .prepare('SELECT data FROM devices ORDER BY device_name, output_name')
        .all()
        .map((row) => deviceSchema.parse(JSON.parse(String(row['data'])))),
    saveDevice(device) {
      const { deviceName, outputName, splitMidi, channel } = device;
      transaction(database, () => {
        database
          .prepare(
            `INSERT INTO devices (device_name, output_name, data) VALUES (?, ?, ?)
             ON CONFLICT (device_name, output_name) DO UPDATE SET data = excluded.data`,
          )
          .run(deviceName, outputName, JSON.stringify(device));
        // These are the keyboard's own, whatever it sounds with.
        database
          .prepare(
            `UPDATE devices SET data = json_set(data, '$.splitMidi', json(?), '$.channel', json(?))
             WHERE device_name = ? AND json_valid(data)`,
          )
          .run(JSON.stringify(splitMidi), JSON.stringify(channel), deviceName);
      });
    },
  };
  return library;
}
