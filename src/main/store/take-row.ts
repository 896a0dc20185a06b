/** A take as its row tells it. What each chord came to is read when a picture needs it. */

import type { DatabaseSync } from 'node:sqlite';
import { z } from 'zod';
import { isDoubting } from '../../core/grading/index.ts';
import type { PlayedTake, RangeTake, TakeEvidence } from '../../core/progress/index.ts';
import { LEVELS, READING_KINDS } from '../../core/words.ts';
import { keptCivilTime } from './civil-time.ts';
import { inflateEvidence } from './figures-codec.ts';

/** A take that counts, without its chords; the bars it was of, or null for the whole form. */
export interface CountedTake {
  readonly take: PlayedTake;
  readonly bars: RangeTake['bars'] | null;
}

/** What is read of a row, and which rows count, in SQL. */
export const TAKE_COLUMNS =
  'take_id, set_up, started_at_ms, day, minute, figures, evidence, readings, decision';
export const COUNTED = 'finished <> 0 AND deleted_at_ms IS NULL AND figures IS NOT NULL';

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
  changesUnproven: z.number().default(0),
  changesLeftOut: z.number().default(0),
  /** In takes stored before it was packed. */
  evidence: evidenceSchema.nullable().default(null),
});

/** Tells of takes what each of their chords came to. */
export function createChordReader(
  database: DatabaseSync,
): (takes: readonly PlayedTake[]) => readonly PlayedTake[] {
  const packed = database.prepare('SELECT evidence FROM takes WHERE take_id = ?');
  const figures = database.prepare('SELECT figures FROM takes WHERE take_id = ?');

  function chordsOf(takeId: string): TakeEvidence['chords'] {
    const row = packed.get(takeId);
    if (row === undefined) return undefined;
    try {
      // The figures, which the evidence of old takes stands in, are long to read where nobody needs them.
      const evidence = packedEvidence(row) ?? parsedFigures(figures.get(takeId)).evidence;
      return evidence?.chords;
    } catch {
      return undefined;
    }
  }

  return (takes) =>
    takes.map((take) => {
      const chords = chordsOf(take.takeId);
      return chords === undefined ? take : { ...take, evidence: { ...take.evidence, chords } };
    });
}

/**
 * A take that counts: at a steady tempo, with evidence and at least one slot; null for any other. What is damaged is told: the take
 * itself can still be heard and graded.
 */
export function readTake(row: Record<string, unknown>): CountedTake | 'damaged' | null {
  const read = parsed(row);
  if (read === 'damaged' || read === null || read.figures.slots === 0) {
    return read === 'damaged' ? read : null;
  }
  const { bars, grade, ...named } = read.setUp;
  if (grade.tempo.kind !== 'steady') return null;
  const { evidence: _packed, ...counts } = read.figures;
  const { chords: _chords, ...slim } = read.evidence;
  const playedAtMs = Number(row['started_at_ms']);
  const take: PlayedTake = {
    takeId: String(row['take_id']),
    ...named,
    level: grade.level,
    tempoBpm: grade.tempo.tempoBpm,
    day: keptCivilTime(playedAtMs, row).day,
    evidence: { playedAtMs, ...counts, ...slim, isUndecided: isUndecided(row) },
  };
  return { take, bars };
}

/** What is read of readings: the kinds alone tell. */
const readingsSchema = z.array(z.object({ kind: z.enum(READING_KINDS) }));

/** Whether the counts are in doubt: of readings that cannot be read nothing is known. */
function isUndecided({ readings, decision }: Record<string, unknown>): boolean {
  if (typeof readings !== 'string' || typeof decision === 'string') return false;
  const [first] = readingsSchema.safeParse(jsonOrNull(readings)).data ?? [];
  return first !== undefined && isDoubting(first);
}

function jsonOrNull(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** The parts of a row; null without evidence. */
function parsed(row: Record<string, unknown>) {
  try {
    const setUp = setUpSchema.parse(JSON.parse(String(row['set_up'])));
    const figures = parsedFigures(row);
    const evidence = packedEvidence(row) ?? figures.evidence;
    return evidence === null ? null : { setUp, figures, evidence };
  } catch {
    return 'damaged';
  }
}

/** Throws where they are damaged, or there are none. */
function parsedFigures(row: Record<string, unknown> | undefined) {
  return figuresSchema.parse(JSON.parse(String(row?.['figures'])));
}

/** Null where the evidence stands in the figures. Throws where it is damaged. */
function packedEvidence({ evidence }: Record<string, unknown>): Evidence | null {
  return evidence instanceof Uint8Array ? evidenceSchema.parse(inflateEvidence(evidence)) : null;
}
