/**
 * Every take that counts, in memory: read month by month when it is first asked for, and kept up to date take by take. What
 * each chord came to is read when a picture needs it.
 */

import type { DatabaseSync } from 'node:sqlite';
import { z } from 'zod';
import {
  type Past,
  type PlayedTake,
  practiceId,
  type RangeTake,
  type TakeEvidence,
} from '../../core/progress/index.ts';
import { LEVELS } from '../../core/words.ts';
import { createHistoryMonths, createHistoryPasts, inflateEvidence } from '../store/index.ts';
import { type KeptTake, packMonth, unpackMonth } from './month-codec.ts';
import { keepPasts, readPasts } from './pasts.ts';
import { type Rest, restNow } from './rest.ts';

export interface History {
  /** Takes over the whole form, newest first. */
  whole(): readonly PlayedTake[];
  /** The same by their `practiceId`, each list newest first; a list in which nothing has changed stays the very same. */
  practices(): ReadonlyMap<string, readonly PlayedTake[]>;
  /** Takes of some bars alone, newest first. */
  drills(): readonly RangeTake[];
  /** The takes with what each of their chords came to. */
  withChords(takes: readonly PlayedTake[]): readonly PlayedTake[];
  /** Reads a take again: it was finished, deleted or restored. */
  changed(takeId: string): void;
  /** Reads everything again: an archive came in. */
  forget(): void;
  /** Reads every month ahead, little by little, and keeps it in one piece, so that the next start reads it at once. */
  warmUp(rest?: Rest): Promise<void>;
  /** What one of the lists of `practices` came to before a day, if that is kept from an earlier start; else null. */
  past(takes: readonly PlayedTake[], utcOffsetMinutes: number): Past | null;
  /** Keeps what every practice came to before its latest month, so that the next start need not tell it again. */
  keepPasts(utcOffsetMinutes: number, rest?: Rest): Promise<void>;
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

const COLUMNS = 'take_id, set_up, started_at_ms, figures, evidence';
const COUNTED = 'finished = 1 AND deleted_at_ms IS NULL AND figures IS NOT NULL';
/** The history of a library. */
export function createHistory(database: DatabaseSync): History {
  const months = createHistoryMonths(database, COLUMNS, COUNTED);
  const one = database.prepare(`SELECT ${COLUMNS} FROM takes WHERE take_id = ? AND ${COUNTED}`);
  const played = database.prepare('SELECT figures, evidence FROM takes WHERE take_id = ?');
  const keptPasts = createHistoryPasts(database);
  let loaded: Loaded | null = null;
  /** For each offset of the clock, as they were read with the takes: a list that has changed since has none. */
  const pasts = new Map<number, ReturnType<typeof readPasts>>();
  /** Months that were read ahead; empty once all are sorted out. */
  const ahead = new Map<number, readonly KeptTake[]>();

  function unpacked(month: number): readonly KeptTake[] | null {
    const bytes = months.bytes(month);
    return bytes && unpackMonth(bytes);
  }

  function load(): Loaded {
    if (loaded !== null) return loaded;
    const all = months.all();
    loaded = sortOut(
      all.map((month) => ahead.get(month) ?? unpacked(month) ?? readMonth(months.takes(month))),
    );
    ahead.clear();
    pasts.clear();
    return loaded;
  }

  return {
    whole: () => load().whole,
    practices: () => load().practices,
    drills: () => load().drills,
    withChords: (takes) =>
      takes.map((take) => {
        const row = played.get(take.takeId);
        const chords = row === undefined ? undefined : parsedFigures(row)?.evidence.chords;
        return chords === undefined ? take : { ...take, evidence: withChords(take, chords) };
      }),
    changed(takeId) {
      ahead.clear();
      // What has not been read yet will be.
      if (loaded === null) return;
      const row = one.get(takeId);
      loaded = exchange(loaded, takeId, row === undefined ? null : readTake(row));
    },
    forget() {
      ahead.clear();
      loaded = null;
    },
    past(takes, utcOffsetMinutes) {
      const { practices } = load();
      const known =
        pasts.get(utcOffsetMinutes) ?? readPasts(keptPasts, practices, utcOffsetMinutes);
      pasts.set(utcOffsetMinutes, known);
      return known.get(takes) ?? null;
    },
    async keepPasts(utcOffsetMinutes, rest = restNow) {
      const [month] = months.all();
      if (month === undefined) return;
      try {
        await keepPasts(keptPasts, load().practices, month, utcOffsetMinutes, rest);
      } catch {
        // A disk that is full keeps nobody from practising: they are told again as long as it is.
      }
    },
    async warmUp(rest = restNow) {
      for (const month of months.all()) {
        await rest();
        if (!database.isOpen) return;
        const takes = unpacked(month);
        if (takes !== null) {
          if (loaded === null) ahead.set(month, takes);
          continue;
        }
        try {
          months.keep(month, (rows) => packMonth(readMonth(rows)));
        } catch {
          // A disk that is full keeps nobody from practising: the takes are read one by one as long as it is.
          return;
        }
      }
    },
  };
}

/** Takes by what is asked of them; all newest first. */
interface Loaded {
  readonly whole: readonly PlayedTake[];
  readonly practices: ReadonlyMap<string, readonly PlayedTake[]>;
  readonly drills: readonly RangeTake[];
}

function newestFirst(one: PlayedTake, other: PlayedTake): number {
  return other.evidence.playedAtMs - one.evidence.playedAtMs;
}

/** In: each month newest first, the latest month first. */
function sortOut(months: readonly (readonly KeptTake[])[]): Loaded {
  const whole: PlayedTake[] = [];
  const drills: RangeTake[] = [];
  const practices = new Map<string, PlayedTake[]>();
  for (const { take, practice, bars } of months.flat()) {
    if (bars !== null) {
      drills.push({ ...take, bars });
      continue;
    }
    whole.push(take);
    const own = practices.get(practice);
    if (own === undefined) practices.set(practice, [take]);
    else own.push(take);
  }
  return { whole, practices, drills };
}

/** The same with another take, or none, in the place of one. Lists in which nothing changes stay the very same. */
function exchange(before: Loaded, takeId: string, kept: KeptTake | null): Loaded {
  const without = <Take extends PlayedTake>(takes: readonly Take[]): readonly Take[] =>
    takes.some((take) => take.takeId === takeId)
      ? takes.filter((take) => take.takeId !== takeId)
      : takes;
  const added = kept !== null && kept.bars === null ? [kept.take] : [];
  const addedDrills =
    kept !== null && kept.bars !== null ? [{ ...kept.take, bars: kept.bars }] : [];
  const practices = new Map(
    [...before.practices].map(([name, takes]) => [name, without(takes)] as const),
  );
  for (const take of added) {
    const name = practiceId(take);
    practices.set(name, [take, ...(practices.get(name) ?? [])].sort(newestFirst));
  }
  return {
    whole: [...added, ...without(before.whole)].sort(newestFirst),
    practices: new Map([...practices].filter(([, takes]) => takes.length > 0)),
    drills: [...addedDrills, ...without(before.drills)].sort(newestFirst),
  };
}

/** The takes of rows, newest first. */
function readMonth(rows: readonly Record<string, unknown>[]): readonly KeptTake[] {
  return rows
    .flatMap((row) => readTake(row) ?? [])
    .sort((one, other) => newestFirst(one.take, other.take));
}

/** A take that counts: at a steady tempo, with evidence and at least one slot; null for any other. */
function readTake(row: Record<string, unknown>): KeptTake | null {
  const read = parsed(row);
  if (read === null || read.figures.slots === 0) return null;
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
    evidence: { playedAtMs, ...counts, ...slim },
  };
  return { take, practice: practiceId(take), bars };
}

/** The other lists are still made when they are asked for. */
function withChords({ evidence }: PlayedTake, chords: TakeEvidence['chords']): TakeEvidence {
  return {
    ...evidence,
    chords,
    get bars() {
      return evidence.bars;
    },
    get lateChanges() {
      return evidence.lateChanges;
    },
  };
}

/** The parts of a row; null where one is damaged: the take itself can still be heard and graded. */
function parsed(row: Record<string, unknown>) {
  try {
    const setUp = setUpSchema.parse(JSON.parse(String(row['set_up'])));
    const played = parsedFigures(row);
    return played === null ? null : { setUp, ...played };
  } catch {
    return null;
  }
}

function parsedFigures({ figures: figuresText, evidence: packed }: Record<string, unknown>) {
  try {
    const figures = figuresSchema.parse(JSON.parse(String(figuresText)));
    const evidence =
      packed instanceof Uint8Array
        ? evidenceSchema.parse(inflateEvidence(packed))
        : figures.evidence;
    return evidence === null ? null : { figures, evidence };
  } catch {
    return null;
  }
}
