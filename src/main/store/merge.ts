/**
 * Another library's contents into this one, all or nothing. What is here already is never overwritten: the same is
 * passed over, what differs is kept beside what is here, and for what there can be only one of, the one here stays.
 */

import { createHash } from 'node:crypto';
import type { DatabaseSync } from 'node:sqlite';
import type { ImportResult } from '../../../shared/bridge/index.ts';
import type {
  Contents,
  KeptChart,
  KeptMelody,
  KeptSetting,
  KeptTags,
  KeptTake,
} from './contents.ts';
import { encodeEvents } from './event-codec.ts';
import { transaction } from './open-store.ts';

/** A take with its events as they are stored: ten years of them have room in memory. */
export interface PackedTake extends Omit<KeptTake, 'events'> {
  readonly eventCount: number;
  readonly bytes: Uint8Array;
}

export interface Incoming {
  readonly charts: readonly KeptChart[];
  readonly tags: readonly KeptTags[];
  readonly melodies: readonly KeptMelody[];
  readonly settings: readonly KeptSetting[];
  readonly devices: ReturnType<Contents['devices']>;
  readonly takes: readonly PackedTake[];
}

export function packTake({ events, ...take }: KeptTake): PackedTake {
  return { ...take, eventCount: events.length, bytes: encodeEvents(events) };
}

/** The session of takes that were imported unfinished: they can be recovered. */
const IMPORTED = 'imported';

/** How many remarks are told one by one. */
const MOST_TOLD = 200;

type Kind = keyof ImportResult['added'];

/** Merges what comes in. `own` reads this very library. */
export function mergeContents(
  database: DatabaseSync,
  own: Contents,
  incoming: Incoming,
): ImportResult {
  const added: Record<Kind, number> = { charts: 0, takes: 0, settings: 0, devices: 0 };
  const alreadyHere: Record<Kind, number> = { charts: 0, takes: 0, settings: 0, devices: 0 };
  const told: string[] = [];
  const idIsUsed = (table: 'charts' | 'takes', id: string): boolean => {
    const column = table === 'charts' ? 'chart_id' : 'take_id';
    return database.prepare(`SELECT 1 FROM ${table} WHERE ${column} = ?`).get(id) !== undefined;
  };

  /** The ids under which charts that came in are kept, where they are others than they came with. */
  const keptAs = new Map<string, string>();

  function mergeCharts(): void {
    const here = new Map(own.charts().map((chart) => [chart.chartId, chart]));
    const insert = database.prepare(
      'INSERT INTO charts (chart_id, title, text, updated_at_ms) VALUES (?, ?, ?, ?)',
    );
    for (const chart of incoming.charts) {
      const { chartId, title, text, updatedAtMs } = chart;
      const known = here.get(chartId);
      const otherId = derivedId(chartId, title, text);
      if (known !== undefined && known.title === title && known.text === text) alreadyHere.charts++;
      else if (known === undefined && idIsUsed('charts', chartId)) {
        const { changes } = database
          .prepare(
            `UPDATE charts SET deleted_at_ms = NULL WHERE chart_id = ? AND title = ? AND text = ?`,
          )
          .run(chartId, title, text);
        if (Number(changes) > 0) {
          added.charts++;
          told.push(`The chart ${title} was deleted here and is back.`);
        } else addBeside();
      } else if (known !== undefined) addBeside();
      else {
        insert.run(chartId, title, text, updatedAtMs);
        added.charts++;
      }

      function addBeside(): void {
        keptAs.set(chartId, otherId);
        if (idIsUsed('charts', otherId)) {
          alreadyHere.charts++;
          return;
        }
        insert.run(otherId, title, text, updatedAtMs);
        added.charts++;
        told.push(`The chart ${title} differs from the one here: both are kept.`);
      }
    }
  }

  function mergeTakes(): void {
    const rows = new Map<string, number>();
    for (const row of database.prepare('SELECT rowid AS id, take_id FROM takes').all()) {
      rows.set(String(row['take_id']), Number(row['id']));
    }
    for (const take of incoming.takes) {
      const row = rows.get(take.takeId);
      if (row === undefined) {
        insertTake(database, take.takeId, take);
        rows.set(take.takeId, Number.NaN);
        added.takes++;
        continue;
      }
      const day = new Date(take.startedAtMs).toISOString().slice(0, 10);
      const name = `The take of ${day} on ${take.setUp.chartTitle}`;
      const known = own.take(row);
      const same = known !== null && sameness(packTake(known), take);
      if (same === 'equal') alreadyHere.takes++;
      else if (same === 'played') {
        alreadyHere.takes++;
        told.push(`${name} has another note or state in the archive: the one here stays.`);
      } else {
        const otherId = derivedId(take.takeId, playedContent(take));
        if (rows.has(otherId)) alreadyHere.takes++;
        else {
          insertTake(database, otherId, take);
          rows.set(otherId, Number.NaN);
          added.takes++;
          const why =
            known === null ? 'was deleted here or cannot be read' : 'differs from the one here';
          told.push(`${name} ${why}: it is kept beside it.`);
        }
      }
    }
  }

  function mergeTags(): void {
    const here = new Set(own.tags().map(({ chartId }) => chartId));
    const insert = database.prepare('INSERT INTO chart_tags (chart_id, tag) VALUES (?, ?)');
    for (const { chartId, tags } of incoming.tags) {
      if (here.has(chartId)) continue;
      for (const tag of new Set(tags)) insert.run(chartId, tag);
    }
  }

  function mergeMelodies(): void {
    const here = new Map(
      own.melodies().map(({ chartId, melody }) => [chartId, JSON.stringify(melody)]),
    );
    const titles = new Map(incoming.charts.map(({ chartId, title }) => [chartId, title]));
    // One of a deleted chart that stayed deleted here is in the way of none.
    const insert = database.prepare(
      `INSERT INTO chart_melodies (chart_id, melody) VALUES (?, ?)
       ON CONFLICT (chart_id) DO UPDATE SET melody = excluded.melody`,
    );
    for (const { chartId, melody } of incoming.melodies) {
      const id = keptAs.get(chartId) ?? chartId;
      const json = JSON.stringify(melody);
      const known = here.get(id);
      if (known === undefined) insert.run(id, json);
      else if (known !== json) {
        const title = titles.get(chartId) ?? 'a chart';
        told.push(`The melody of ${title} differs from the one here, which stays.`);
      }
    }
  }

  function mergeSettings(): void {
    const here = new Map(own.settings().map(({ name, value }) => [name, JSON.stringify(value)]));
    const insert = database.prepare('INSERT INTO settings (name, value) VALUES (?, ?)');
    for (const { name, value } of incoming.settings) {
      const json = JSON.stringify(value);
      const known = here.get(name);
      if (known === undefined) {
        insert.run(name, json);
        added.settings++;
      } else {
        alreadyHere.settings++;
        if (known !== json) told.push(`The setting “${name}” differs: the one here stays.`);
      }
    }
  }

  function mergeDevices(): void {
    const key = (device: { deviceName: string; outputName: string }): string =>
      JSON.stringify([device.deviceName, device.outputName]);
    const here = new Map(own.devices().map((device) => [key(device), JSON.stringify(device)]));
    const insert = database.prepare(
      'INSERT INTO devices (device_name, output_name, data) VALUES (?, ?, ?)',
    );
    for (const device of incoming.devices) {
      const json = JSON.stringify(device);
      const known = here.get(key(device));
      if (known === undefined) {
        insert.run(device.deviceName, device.outputName, json);
        added.devices++;
      } else {
        alreadyHere.devices++;
        if (known !== json) {
          told.push(`${device.deviceName} is set otherwise in the archive: the one here stays.`);
        }
      }
    }
  }

  transaction(database, () => {
    mergeCharts();
    mergeTags();
    mergeMelodies();
    mergeTakes();
    mergeSettings();
    mergeDevices();
  });
  return {
    added,
    alreadyHere,
    told: told.slice(0, MOST_TOLD),
    untold: Math.max(0, told.length - MOST_TOLD),
  };
}

function insertTake(database: DatabaseSync, takeId: string, take: PackedTake): void {
  const { chartText, ...setUp } = take.setUp;
  database
    .prepare(
      `INSERT INTO takes (take_id, chart_id, set_up, chart_text, started_at_ms, end_ms, note, figures,
         finished, session_id) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    )
    .run(
      takeId,
      setUp.chartId,
      JSON.stringify(setUp),
      chartText,
      take.startedAtMs,
      take.endMs,
      take.note,
      take.figures === null ? null : JSON.stringify(take.figures),
      take.isFinished ? 1 : 0,
      IMPORTED,
    );
  if (take.eventCount === 0) return;
  database
    .prepare('INSERT INTO take_chunks (take_id, from_event, events, bytes) VALUES (?, 0, ?, ?)')
    .run(takeId, take.eventCount, take.bytes);
}

/** What was played and on what, as text: equal texts are the same performance. */
function playedContent({ setUp, startedAtMs, bytes }: PackedTake): string {
  return JSON.stringify([setUp, startedAtMs, Buffer.from(bytes).toString('base64')]);
}

function sameness(known: PackedTake, take: PackedTake): 'equal' | 'played' | 'other' {
  if (playedContent(known) !== playedContent(take)) return 'other';
  const rest = ({ endMs, note, isFinished, figures }: PackedTake): string =>
    JSON.stringify([endMs, note, isFinished, figures]);
  return rest(known) === rest(take) ? 'equal' : 'played';
}

/** The id of what is kept beside another of its id: always the same for the same, so that it comes in once. */
function derivedId(...parts: readonly string[]): string {
  return createHash('sha256').update(JSON.stringify(parts)).digest('hex').slice(0, 32);
}
