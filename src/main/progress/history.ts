/**
 * Every take that counts, in memory: read from the library when it is first asked for, and kept up to date take by take.
 * Ten years of practice are some ten thousand kilobytes; what each chord came to is kept of the last weeks alone.
 */

import type { DatabaseSync } from 'node:sqlite';
import { z } from 'zod';
import { type PlayedTake, type RangeTake, WINDOW_DAYS } from '../../core/progress/index.ts';
import { LEVELS } from '../../core/words.ts';
import { unpackFigures } from '../store/index.ts';

export interface History {
  /** Takes over the whole form, newest first. */
  whole(): readonly PlayedTake[];
  /** Takes of some bars alone, newest first. */
  drills(): readonly RangeTake[];
  /** The takes with what each of their chords came to, read anew. */
  withChords(takes: readonly PlayedTake[]): readonly PlayedTake[];
  /** Reads a take again: it was finished, deleted or restored. */
  changed(takeId: string): void;
  /** Reads everything again: an archive came in. */
  forget(): void;
}

/** The part of a stored set-up that tells what was practised. */
const setUpSchema = z.object({
  chartId: z.string(),
  chartTitle: z.string(),
  plan: z.string(),
  key: z.string(),
  bars: z.object({ from: z.number(), to: z.number() }).nullable(),
  grade: z.object({
    level: z.enum(LEVELS),
    tempo: z.union([
      z.object({ kind: z.literal('steady'), tempoBpm: z.number() }),
      z.object({ kind: z.literal('mapped') }),
    ]),
  }),
});

const DAY_MS = 86_400_000;
const COLUMNS = 'take_id, set_up, started_at_ms, figures';
const COUNTED = 'finished = 1 AND deleted_at_ms IS NULL AND figures IS NOT NULL';

interface Kept {
  readonly take: PlayedTake;
  readonly bars: RangeTake['bars'] | null;
}

/** The history of a library. `nowMs` is ms since 1970. */
export function createHistory(database: DatabaseSync, nowMs: () => number): History {
  let kept: Map<string, Kept> | null = null;
  let sorted: { readonly whole: PlayedTake[]; readonly drills: RangeTake[] } | null = null;

  function keptTakes(): Map<string, Kept> {
    kept ??= readAll();
    return kept;
  }

  function readAll(): Map<string, Kept> {
    const all = new Map<string, Kept>();
    const recentMs = nowMs() - WINDOW_DAYS * DAY_MS;
    const rows = database.prepare(`SELECT ${COLUMNS} FROM takes WHERE ${COUNTED}`).iterate();
    for (const row of rows) {
      const read = readTake(row, chordsOf(row, recentMs));
      if (read !== null) all.set(read.take.takeId, read);
    }
    return all;
  }

  function chordsOf(row: Record<string, unknown>, fromMs: number): unknown {
    return Number(row['started_at_ms']) < fromMs ? null : readChords(String(row['take_id']));
  }

  function readChords(takeId: string): unknown {
    return database.prepare('SELECT chords FROM takes WHERE take_id = ?').get(takeId)?.['chords'];
  }

  function lists() {
    if (sorted !== null) return sorted;
    const newestFirst = [...keptTakes().values()].sort(
      (one, other) => other.take.evidence.playedAtMs - one.take.evidence.playedAtMs,
    );
    sorted = {
      whole: newestFirst.flatMap(({ take, bars }) => (bars === null ? [take] : [])),
      drills: newestFirst.flatMap(({ take, bars }) => (bars === null ? [] : [{ ...take, bars }])),
    };
    return sorted;
  }

  return {
    whole: () => lists().whole,
    drills: () => lists().drills,
    withChords: (takes) =>
      takes.map((take) => {
        if (take.evidence.chords !== undefined) return take;
        const row = database
          .prepare(`SELECT ${COLUMNS}, chords FROM takes WHERE take_id = ?`)
          .get(take.takeId);
        return (row && readTake(row, row['chords'])?.take) ?? take;
      }),
    changed(takeId) {
      if (kept === null) return;
      const row = database
        .prepare(`SELECT ${COLUMNS} FROM takes WHERE take_id = ? AND ${COUNTED}`)
        .get(takeId);
      const read = row === undefined ? null : readTake(row, readChords(takeId));
      if (read === null) kept.delete(takeId);
      else kept.set(takeId, read);
      sorted = null;
    },
    forget() {
      kept = null;
      sorted = null;
    },
  };
}

/** A take that counts: at a steady tempo, with evidence and at least one slot; null for any other. */
function readTake(row: Record<string, unknown>, chords: unknown): Kept | null {
  const setUp = setUpSchema.safeParse(JSON.parse(String(row['set_up'])));
  const figures = readFigures(row['figures'], chords);
  if (!setUp.success || figures?.evidence == null || figures.slots === 0) return null;
  const { bars, grade, ...named } = setUp.data;
  if (grade.tempo.kind !== 'steady') return null;
  const { slots, clean, changesCounted, changesOnTime, evidence } = figures;
  const playedAtMs = Number(row['started_at_ms']);
  const take: PlayedTake = {
    takeId: String(row['take_id']),
    ...named,
    level: grade.level,
    tempoBpm: grade.tempo.tempoBpm,
    evidence: { playedAtMs, slots, clean, changesCounted, changesOnTime, ...evidence },
  };
  return { take, bars };
}

/** Figures that are damaged tell nothing: the take itself can still be heard and graded. */
function readFigures(text: unknown, chords: unknown) {
  try {
    return unpackFigures(text, chords);
  } catch {
    return null;
  }
}
