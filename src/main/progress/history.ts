/**
 * Every take that counts, in memory: read from the library when it is first asked for, or before, and kept up to date take
 * by take. What each chord came to is kept of the last weeks alone, and read again for a picture of older ones.
 */

import type { DatabaseSync } from 'node:sqlite';
import { setImmediate } from 'node:timers/promises';
import { z } from 'zod';
import {
  DAY_MS,
  type PlayedTake,
  type RangeTake,
  type TakeEvidence,
  WINDOW_DAYS,
} from '../../core/progress/index.ts';
import { LEVELS } from '../../core/words.ts';
import { inflateEvidence } from '../store/index.ts';

export interface History {
  /** Takes over the whole form, newest first. */
  whole(): readonly PlayedTake[];
  /** Takes of some bars alone, newest first. */
  drills(): readonly RangeTake[];
  /** The takes with what each of their chords came to. */
  withChords(takes: readonly PlayedTake[]): readonly PlayedTake[];
  /** Reads a take again: it was finished, deleted or restored. */
  changed(takeId: string): void;
  /** Reads everything again: an archive came in. */
  forget(): void;
  /** Reads the library little by little, so that the first question is answered at once and no take waits for it. */
  warmUp(): Promise<void>;
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

type Evidence = Pick<TakeEvidence, 'choruses' | 'bars' | 'lateChanges' | 'chords'>;

/** Every list in it was checked bar by bar when the take came in; here its parts must be there. */
const evidenceSchema = z.object({
  choruses: z.number(),
  bars: z.custom<Evidence['bars']>(Array.isArray),
  lateChanges: z.custom<Evidence['lateChanges']>(Array.isArray),
  chords: z.custom<Evidence['chords']>(Array.isArray).optional(),
});

const figuresSchema = z.object({
  slots: z.number(),
  clean: z.number(),
  changesCounted: z.number(),
  changesOnTime: z.number(),
  /** In takes stored before it was packed. */
  evidence: evidenceSchema.nullable().default(null),
});

const COLUMNS = 'rowid AS row, take_id, set_up, started_at_ms, figures, evidence';
const COUNTED = 'finished = 1 AND deleted_at_ms IS NULL AND figures IS NOT NULL';
/** Rows read at a time: some milliseconds of work. */
const HANDFUL = 100;

interface Kept {
  readonly take: PlayedTake;
  readonly bars: RangeTake['bars'] | null;
}

/** The history of a library. `nowMs` is ms since 1970. */
export function createHistory(database: DatabaseSync, nowMs: () => number): History {
  const kept = new Map<string, Kept>();
  let lastRow = 0;
  let isWhole = false;
  let sorted: { readonly whole: PlayedTake[]; readonly drills: RangeTake[] } | null = null;
  const handful = database.prepare(
    `SELECT ${COLUMNS} FROM takes WHERE rowid > ? AND ${COUNTED} ORDER BY rowid LIMIT ?`,
  );
  const one = database.prepare(`SELECT ${COLUMNS} FROM takes WHERE take_id = ? AND ${COUNTED}`);

  function readHandful(rows: number): void {
    const recentMs = nowMs() - WINDOW_DAYS * DAY_MS;
    const read = handful.all(lastRow, rows);
    for (const row of read) {
      lastRow = Number(row['row']);
      const own = readTake(row, Number(row['started_at_ms']) >= recentMs);
      if (own !== null) kept.set(own.take.takeId, own);
    }
    isWhole = read.length < rows;
    sorted = null;
  }

  function lists() {
    while (!isWhole) readHandful(HANDFUL);
    if (sorted !== null) return sorted;
    const newestFirst = [...kept.values()].sort(
      (a, b) => b.take.evidence.playedAtMs - a.take.evidence.playedAtMs,
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
        const row = one.get(take.takeId);
        return (row && readTake(row, true)?.take) ?? take;
      }),
    changed(takeId) {
      const row = one.get(takeId);
      // One that has not been read yet will be.
      if (row !== undefined && !isWhole && Number(row['row']) > lastRow) return;
      const read = row === undefined ? null : readTake(row, true);
      if (read === null) kept.delete(takeId);
      else kept.set(takeId, read);
      sorted = null;
    },
    forget() {
      kept.clear();
      lastRow = 0;
      isWhole = false;
      sorted = null;
    },
    async warmUp() {
      while (!isWhole && database.isOpen) {
        readHandful(HANDFUL);
        await setImmediate();
      }
    },
  };
}

/** A take that counts: at a steady tempo, with evidence and at least one slot; null for any other. */
function readTake(row: Record<string, unknown>, withChords: boolean): Kept | null {
  const read = parsed(row);
  if (read === null || read.figures.slots === 0) return null;
  const { bars, grade, ...named } = read.setUp;
  if (grade.tempo.kind !== 'steady') return null;
  const { evidence: _packed, ...counts } = read.figures;
  const { chords, ...slim } = read.evidence;
  const playedAtMs = Number(row['started_at_ms']);
  const take: PlayedTake = {
    takeId: String(row['take_id']),
    ...named,
    level: grade.level,
    tempoBpm: grade.tempo.tempoBpm,
    evidence: { playedAtMs, ...counts, ...slim, ...(withChords && chords ? { chords } : {}) },
  };
  return { take, bars };
}

/** The parts of a row; null where one is damaged: the take itself can still be heard and graded. */
function parsed({
  set_up: setUpText,
  figures: figuresText,
  evidence: packed,
}: Record<string, unknown>) {
  try {
    const setUp = setUpSchema.parse(JSON.parse(String(setUpText)));
    const figures = figuresSchema.parse(JSON.parse(String(figuresText)));
    const evidence =
      packed instanceof Uint8Array
        ? evidenceSchema.parse(inflateEvidence(packed))
        : figures.evidence;
    return evidence === null ? null : { setUp, figures, evidence };
  } catch {
    return null;
  }
}
