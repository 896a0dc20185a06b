/** A span of days for a teacher: how often, how long, and what became of each chart. */

import { nameOfPractice, type PracticeName, practiceId, type Standing } from '../progress/index.ts';
import { minutesOf } from './charts-played.ts';
import type { DatedRemark, JournalTake, PracticeSession } from './model.ts';
import { type PlayedInSpan, playedInSpan } from './played-in-span.ts';

export interface PracticeReport extends PracticeName {
  readonly played: PlayedInSpan;
  /** How it stands now, whatever the span; null where none of its takes counts. */
  readonly standing: Standing | null;
}

export interface ChartReport {
  readonly chartId: string;
  readonly chartTitle: string;
  readonly minutes: number;
  readonly takes: number;
  /** One a plan, key and level, in the order they were first played. */
  readonly practices: readonly PracticeReport[];
}

export interface TeacherReport {
  readonly daysInSpan: number;
  readonly daysPractised: number;
  readonly sessions: number;
  readonly minutes: number;
  /** What was played longest first. */
  readonly charts: readonly ChartReport[];
  /** Oldest first. */
  readonly remarks: readonly DatedRemark[];
}

/** How practices stand, by their `practiceId`. */
export type Standings = ReadonlyMap<string, Standing>;

/** What the sessions begun on days `fromDay` to `toDay`, both counted, come to; empty where the span ends before it begins. */
export function teacherReport(
  sessions: readonly PracticeSession[],
  fromDay: number,
  toDay: number,
  standings: Standings,
): TeacherReport {
  const own = sessions
    .filter(({ day }) => day >= fromDay && day <= toDay)
    .toSorted((one, other) => one.startMs - other.startMs);
  const takes = own.flatMap((session) => session.takes);
  return {
    daysInSpan: Math.max(0, toDay - fromDay + 1),
    daysPractised: new Set(own.map(({ day }) => day)).size,
    sessions: own.length,
    minutes: minutesOf(takes),
    charts: [...Map.groupBy(takes, ({ chartId }) => chartId).values()]
      .map((played) => chartReport(played, standings))
      .sort((one, other) => other.minutes - one.minutes),
    remarks: own.flatMap(({ remarks }) => remarks),
  };
}

function chartReport(takes: readonly JournalTake[], standings: Standings): ChartReport {
  const last = takes.at(-1);
  return {
    chartId: last?.chartId ?? '',
    chartTitle: last?.chartTitle ?? '',
    minutes: minutesOf(takes),
    takes: takes.length,
    practices: [...Map.groupBy(takes, practiceId)].flatMap(([id, own]) =>
      own.slice(0, 1).map((first) => ({
        ...nameOfPractice(first),
        played: playedInSpan(own),
        standing: standings.get(id) ?? null,
      })),
    ),
  };
}
