/** What the journal asks of the library: the short facts of takes, and the remarks on sessions. */

import type { DatabaseSync } from 'node:sqlite';
import { z } from 'zod';
import type { CallReply } from '../../../shared/bridge/index.ts';
import {
  type DatedRemark,
  EARLIEST_MS,
  type JournalTake,
  LATEST_MS,
  type SessionRemark,
} from '../../core/journal/index.ts';
import { LEVELS } from '../../core/words.ts';
import { civilTimeAt, keptCivilTime } from './civil-time.ts';

export interface PracticeJournal {
  /** Takes begun from `fromMs` up to before `toMs`, oldest first, and on which day the last of all did. */
  takes(fromMs: number, toMs: number): CallReply<'journal.takes'>;
  /** Oldest first. Their days are by the zone of this machine: of where a remark was written nothing is kept. */
  remarks(): readonly DatedRemark[];
  /** Replaces the remark of a moment; an empty text takes it away. */
  setRemark(remark: SessionRemark): void;
}

/**
 * The index `takes_for_journal` holds these columns and expressions, word for word, so that they are taken from it: to read
 * the rows themselves, with the chart's text and the evidence, takes many times as long.
 */
export const SHORT_FACTS = `
  SELECT started_at_ms, day, minute, end_ms, take_id, chart_id, note,
    CASE WHEN json_valid(set_up) THEN json_extract(set_up, '$.chartTitle', '$.plan', '$.key',
      '$.grade.level', '$.grade.tempo.tempoBpm', '$.bars') END AS set_up,
    CASE WHEN json_valid(figures) THEN json_extract(figures, '$.slots', '$.clean') END AS figures
  FROM takes
  WHERE deleted_at_ms IS NULL AND end_ms > 0 AND started_at_ms >= ? AND started_at_ms < ?
  ORDER BY started_at_ms`;

const LAST_DAY = `
  SELECT started_at_ms, day, minute FROM takes
  WHERE deleted_at_ms IS NULL AND end_ms > 0 AND started_at_ms >= ${EARLIEST_MS} AND started_at_ms < ${LATEST_MS}
  ORDER BY started_at_ms DESC LIMIT 1`;

const setUpFacts = z.tuple([
  z.string(),
  z.string(),
  z.string(),
  z.enum(LEVELS),
  z.number().nullable(),
  z.object({ from: z.number(), to: z.number() }).nullable(),
]);
const figureFacts = z.tuple([z.number(), z.number()]);

/** The journal of a library. */
export function createPracticeJournal(database: DatabaseSync): PracticeJournal {
  const shortFacts = database.prepare(SHORT_FACTS);
  const last = database.prepare(LAST_DAY);
  return {
    takes(fromMs, toMs) {
      const latest = last.get();
      return {
        takes: shortFacts.all(fromMs, toMs).flatMap(toTake),
        lastDay: latest === undefined ? null : wallClock(latest).day,
      };
    },
    remarks: () =>
      database
        .prepare('SELECT at_ms, text FROM session_remarks ORDER BY at_ms')
        .all()
        .map((row) => {
          const atMs = Number(row['at_ms']);
          return { atMs, day: civilTimeAt(atMs).day, text: String(row['text']) };
        }),
    setRemark({ atMs, text }) {
      if (text === '') {
        database.prepare('DELETE FROM session_remarks WHERE at_ms = ?').run(atMs);
        return;
      }
      database
        .prepare(
          `INSERT INTO session_remarks (at_ms, text) VALUES (?, ?)
           ON CONFLICT (at_ms) DO UPDATE SET text = excluded.text`,
        )
        .run(atMs, text);
    },
  };
}

/** A take whose set-up cannot be read has no place in the journal; the list of takes tells of it. */
function toTake(row: Record<string, unknown>): readonly JournalTake[] {
  const setUp = setUpFacts.safeParse(read(row['set_up']));
  if (!setUp.success) return [];
  const [chartTitle, plan, key, level, tempoBpm, bars] = setUp.data;
  const figures = figureFacts.safeParse(read(row['figures']));
  const [slots, clean] = figures.success ? figures.data : [0, 0];
  return [
    {
      takeId: String(row['take_id']),
      chartId: String(row['chart_id']),
      ...{ chartTitle, plan, key, level, tempoBpm, bars, slots, clean },
      startedAtMs: Number(row['started_at_ms']),
      ...wallClock(row),
      endMs: Number(row['end_ms']),
      note: String(row['note']),
    },
  ];
}

function wallClock(row: Record<string, unknown>) {
  const { day, minute } = keptCivilTime(Number(row['started_at_ms']), row);
  return { day, minute };
}

function read(json: unknown): unknown {
  return typeof json === 'string' ? JSON.parse(json) : null;
}
