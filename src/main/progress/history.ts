/**
 * What was played, for whoever judges it. Of each practice what is kept of the past stands for the takes of years, so that right
 * after a start only the last months are read; whoever wants every take reads them all.
 */

import type { DatabaseSync } from 'node:sqlite';
import {
  lastOf,
  type Played,
  type PlayedTake,
  type PracticeName,
  type RangeTake,
  windowStartMs,
} from '../../core/progress/index.ts';
import { createChordReader, createHistoryPasts, MONTH_MS } from '../store/index.ts';
import type { KeptTake } from './month-codec.ts';
import { createMonths } from './months.ts';
import { keepPasts, type Pasts, readPasts } from './pasts.ts';
import type { PlayedPractice, PracticesOf } from './practices.ts';
import { type Rest, restNow } from './rest.ts';

/** When somebody asks, and by which clock. */
export interface Moment {
  /** Ms since 1970. */
  readonly nowMs: number;
  readonly utcOffsetMinutes: number;
}

export interface History {
  /** Another one after every change of what it tells. */
  version(): object;
  /** What was played of each practice over the whole form. */
  practices(moment: Moment): PracticesOf;
  /** Every take over the whole form of wanted practices, newest first; read no further than they are asked for. */
  whole(isWanted: (name: PracticeName) => boolean): IteratorObject<PlayedTake>;
  /** Takes of some bars alone, newest first: those of the last `WINDOW_DAYS`, and some older ones. */
  recentDrills(nowMs: number): readonly RangeTake[];
  /** The takes with what each of their chords came to. */
  withChords(takes: readonly PlayedTake[]): readonly PlayedTake[];
  /** Reads a take again: it was finished, deleted or restored. */
  changed(takeId: string): void;
  /** Reads everything again: an archive came in. */
  forget(): void;
  /**
   * Reads months ahead, little by little, and keeps each in one piece, so that the next start reads it at once: all of them, or as
   * many as `practices` of a moment needs.
   */
  warmUp(rest?: Rest, moment?: Moment): Promise<void>;
  /** Keeps what every practice came to before the latest month played in, so that the next start need not tell it again. */
  keepPasts(moment: Moment, rest?: Rest): Promise<void>;
}

/**
 * Months to be read before that of a past: its day begins up to a day before its month, and the takes of `WINDOW_DAYS`, which is
 * one month, before that day belong to the judgement of what follows.
 */
const MONTHS_BEFORE = 2;

/** The history of a library. */
export function createHistory(database: DatabaseSync): History {
  const months = createMonths(database);
  const keptPasts = createHistoryPasts(database);
  let version = {};
  /** By the offset of the clock, as are the pasts that were read. */
  const told = new Map<number, Told>();
  const read = new Map<number, Pasts | null>();

  function pastsAt({ nowMs, utcOffsetMinutes }: Moment): Pasts | null {
    const kept = readPasts(keptPasts, utcOffsetMinutes, read.get(utcOffsetMinutes) ?? null);
    read.set(utcOffsetMinutes, kept);
    return isAhead(kept, nowMs) ? null : kept;
  }

  function tell(moment: Moment): Told {
    const before = told.get(moment.utcOffsetMinutes) ?? NOTHING_TOLD;
    if (before.version === version && !isAhead(before.pasts, moment.nowMs)) return before;
    const pasts = pastsAt(moment);
    const takes = months.takes(everyPractice, firstMonth(pasts));
    const now = { version, pasts, practices: sortOut(takes, pasts, before.practices) };
    told.set(moment.utcOffsetMinutes, now);
    return now;
  }

  return {
    version: () => version,
    practices: (moment) => tell(moment).practices,
    whole: (isWanted) =>
      months
        .takes(isWanted)
        .filter(({ bars }) => bars === null)
        .map(({ take }) => take),
    recentDrills: (nowMs) =>
      months
        .takes(everyPractice, Math.floor(windowStartMs(nowMs) / MONTH_MS))
        .flatMap(({ take, bars }) => (bars === null ? [] : [{ ...take, bars }]))
        .toArray(),
    withChords: createChordReader(database),
    changed(takeId) {
      months.changed(takeId);
      version = {};
    },
    forget() {
      months.forget();
      version = {};
    },
    async warmUp(rest = restNow, moment) {
      try {
        await months.keep(rest, moment && firstMonth(pastsAt(moment)));
      } catch {
        // A disk that is full keeps nobody from practising: the takes are read one by one as long as it is.
      }
    },
    async keepPasts(moment, rest = restNow) {
      try {
        const latest = months.latest();
        if (latest === null) return;
        // A take of a clock that was ahead ends no month.
        const month = Math.min(latest, Math.floor(moment.nowMs / MONTH_MS));
        const { pasts, practices } = tell(moment);
        if (pasts?.month === month) return;
        await keepPasts(keptPasts, practices, month, moment.utcOffsetMinutes, rest);
      } catch {
        // As there: they are told again as long as it is.
      }
    },
  };
}

interface Told {
  readonly version: object;
  readonly pasts: Pasts | null;
  readonly practices: PracticesOf;
}

const NOTHING_TOLD: Told = { version: {}, pasts: null, practices: new Map() };

/** Whether a clock was set back: of the time before a past not every take is there. */
function isAhead(pasts: Pasts | null, nowMs: number): boolean {
  return pasts !== null && pasts.untilMs > nowMs;
}

/** The first month whose takes are needed beside a past. */
function firstMonth(pasts: Pasts | null): number {
  return pasts === null ? Number.NEGATIVE_INFINITY : pasts.month - MONTHS_BEFORE;
}

function everyPractice(): boolean {
  return true;
}

/** In: takes newest first, and what was told before them. What has stayed the same is the very same. */
function sortOut(takes: Iterable<KeptTake>, pasts: Pasts | null, before: PracticesOf): PracticesOf {
  const groups = new Map<string, PlayedTake[]>();
  for (const { take, practice, bars } of takes) {
    if (bars !== null) continue;
    const own = groups.get(practice);
    if (own === undefined) groups.set(practice, [take]);
    else own.push(take);
  }
  const practices = new Map<string, PlayedPractice>();
  const add = (id: string, name: PracticeName): void => {
    const played = { past: pasts?.practices.get(id)?.past ?? null, takes: groups.get(id) ?? [] };
    const known = before.get(id);
    const last = lastOf(played);
    if (known !== undefined && isSame(known.played, played)) practices.set(id, known);
    else if (last !== null) practices.set(id, { name, last, played });
  };
  for (const [id, [take]] of groups) if (take !== undefined) add(id, take);
  for (const [id, { name }] of pasts?.practices ?? []) if (!groups.has(id)) add(id, name);
  return practices;
}

function isSame(one: Played, other: Played): boolean {
  return (
    one.past === other.past &&
    one.takes.length === other.takes.length &&
    one.takes.every((take, index) => take === other.takes[index])
  );
}
