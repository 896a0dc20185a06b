/** What the journal is made of: the short facts of takes, remarks, and the sessions they make. */

import type { PracticeName } from '../progress/index.ts';
import type { Level } from '../words.ts';

/** One take, as far as the journal tells of it. */
export interface JournalTake extends PracticeName {
  readonly takeId: string;
  readonly chartTitle: string;
  /** Beats per minute; null for a take that followed a tempo map. */
  readonly tempoBpm: number | null;
  /** Bars of the form, both played; null for all of it. */
  readonly bars: { readonly from: number; readonly to: number } | null;
  /** ms since 1970, `EARLIEST_MS` to `LATEST_MS`. */
  readonly startedAtMs: number;
  /** When that was by the clock on the wall there: days since 1970, minutes since midnight. */
  readonly day: number;
  readonly minute: number;
  /** Length of the take, ms. */
  readonly endMs: number;
  /** 0 where nothing was graded. */
  readonly slots: number;
  readonly clean: number;
  /** The player's remark on the take; empty without one. */
  readonly note: string;
}

/** A remark on a session, kept at a moment of it: sessions have no name that outlives a take that is deleted. */
export interface SessionRemark {
  /** ms since 1970, `EARLIEST_MS` to `LATEST_MS`. */
  readonly atMs: number;
  readonly text: string;
}

/** A remark with the day it was made on: days since 1970. */
export interface DatedRemark extends SessionRemark {
  readonly day: number;
}

/** The times a journal has pages for: those with a year of four digits. */
export const EARLIEST_MS = 0;
export const LATEST_MS = 253_370_764_800_000;

/** What was played of one chart. */
export interface ChartPlayed {
  readonly chartId: string;
  readonly chartTitle: string;
  readonly takes: number;
  readonly minutes: number;
  /** In the order they were first played. */
  readonly plans: readonly string[];
  readonly keys: readonly string[];
  /** From the narrowest. */
  readonly levels: readonly Level[];
  /** Slowest and fastest steady tempo; null without one. */
  readonly tempos: { readonly fromBpm: number; readonly toBpm: number } | null;
  readonly slots: number;
  readonly clean: number;
}

/** Takes that belong together. */
export interface PracticeSession {
  /** The day it began on, where it was played; see `days.ts`. */
  readonly day: number;
  /** When it began and when it ended by the clock on the wall there, minutes since midnight. */
  readonly startMinute: number;
  readonly endMinute: number;
  /** ms since 1970. */
  readonly startMs: number;
  /** When the last of its takes ended. */
  readonly endMs: number;
  /** Played: the lengths of its takes summed, without the pauses. */
  readonly minutes: number;
  /** Oldest first. */
  readonly takes: readonly JournalTake[];
  /** In the order they were first played. */
  readonly charts: readonly ChartPlayed[];
  /** Oldest first; more than one where sessions have grown together. */
  readonly remarks: readonly DatedRemark[];
}

export interface Journal {
  /** Newest first. */
  readonly sessions: readonly PracticeSession[];
  /** Remarks on days without a take left, oldest first. */
  readonly looseRemarks: readonly DatedRemark[];
}
