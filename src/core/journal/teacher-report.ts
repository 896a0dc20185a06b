/** A span of days for a teacher: how often, how long, and what became of each chart. */

import { practiceId } from '../progress/index.ts';
import type { Level } from '../words.ts';
import { minutesOf } from './charts-played.ts';
import type { JournalTake, PracticeSession, SessionRemark } from './model.ts';
import { type Standing, standingOf } from './standing.ts';

export interface PracticeReport {
  readonly plan: string;
  readonly key: string;
  readonly level: Level;
  readonly standing: Standing;
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
  readonly remarks: readonly SessionRemark[];
}

/** What the sessions begun on days `fromDay` to `toDay`, both counted, come to; empty where the span ends before it begins. */
export function teacherReport(
  sessions: readonly PracticeSession[],
  fromDay: number,
  toDay: number,
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
      .map(chartReport)
      .sort((one, other) => other.minutes - one.minutes),
    remarks: own.flatMap(({ remarks }) => remarks),
  };
}

function chartReport(takes: readonly JournalTake[]): ChartReport {
  const last = takes.at(-1);
  const groups = Map.groupBy(takes, practiceId);
  return {
    chartId: last?.chartId ?? '',
    chartTitle: last?.chartTitle ?? '',
    minutes: minutesOf(takes),
    takes: takes.length,
    practices: [...groups.values()].flatMap((group): readonly PracticeReport[] => {
      const [first] = group;
      if (first === undefined) return [];
      const { plan, key, level } = first;
      return [{ plan, key, level, standing: standingOf(group) }];
    }),
  };
}
