/** The events of takes as they lie in the library: a chunk for each call that appended some, one when the take is finished. */

import type { DatabaseSync } from 'node:sqlite';
import { inOrderOfTime } from '../../core/take/in-order.ts';
import type { TakeEvent } from '../../core/take/model.ts';
import { encodeEvents, packEvents, unpackEvents } from './event-codec.ts';

export interface TakeChunks {
  /** How many events are stored of a take. */
  count(takeId: string): number;
  /** Adds a chunk behind those there are. */
  write(takeId: string, from: number, events: readonly TakeEvent[]): void;
  /** All events of a take in order of time, whatever the order they came in; or null when a part of them cannot be read. */
  read(takeId: string): readonly TakeEvent[] | null;
  /** Makes one chunk of the many a journal leaves: each costs more than the few notes in it. */
  join(takeId: string): void;
}

export function createTakeChunks(database: DatabaseSync): TakeChunks {
  const last = database.prepare(
    `SELECT from_event + events AS stored FROM take_chunks WHERE take_id = ?
     ORDER BY from_event DESC LIMIT 1`,
  );
  const chunks: TakeChunks = {
    count: (takeId) => Number(last.get(takeId)?.['stored'] ?? 0),
    write(takeId, from, events) {
      database
        .prepare('INSERT INTO take_chunks (take_id, from_event, events, bytes) VALUES (?, ?, ?, ?)')
        .run(takeId, from, events.length, encodeEvents(events));
    },
    read(takeId) {
      const events: TakeEvent[] = [];
      const rows = database
        .prepare('SELECT bytes, deflated FROM take_chunks WHERE take_id = ? ORDER BY from_event')
        .all(takeId);
      for (const { bytes, deflated } of rows) {
        const decoded = bytes instanceof Uint8Array ? unpackEvents(bytes, deflated === 1) : null;
        if (decoded === null) return null;
        for (const event of decoded) events.push(event);
      }
      return inOrderOfTime(events);
    },
    join(takeId) {
      const events = chunks.read(takeId);
      // What cannot be read is left as it is: it may yet be saved by hand.
      if (events === null || events.length === 0) return;
      database.prepare('DELETE FROM take_chunks WHERE take_id = ?').run(takeId);
      database
        .prepare(
          'INSERT INTO take_chunks (take_id, from_event, events, bytes, deflated) VALUES (?, 0, ?, ?, 1)',
        )
        .run(takeId, events.length, packEvents(events));
    },
  };
  return chunks;
}
