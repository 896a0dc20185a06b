/** The journal as comma-separated values, a row a session or a row a take. Source of the quoting: RFC 4180. */

import { textCell } from '../grading/index.ts';
import { formatDay } from './calendar.ts';
import { slotsOf } from './charts-played.ts';
import type { PracticeSession } from './model.ts';

const SESSION_COLUMNS = [
  'date',
  'start',
  'end',
  'minutes',
  'takes',
  'charts',
  'levels',
  'tempoFrom',
  'tempoTo',
  'slots',
  'clean',
  'remark',
] as const;

const TAKE_COLUMNS = [
  'date',
  'start',
  'chart',
  'plan',
  'key',
  'level',
  'tempo',
  'fromBar',
  'toBar',
  'minutes',
  'slots',
  'clean',
  'remark',
] as const;

type Cell = string | number;

/** One row a session under a header row, oldest first, each with its line end. Times are those of the place it was played in. */
export function sessionsCsv(sessions: readonly PracticeSession[]): string {
  const rows = sessions.toReversed().map(({ day, minutes, takes, ...session }) => {
    const tempos = session.charts.flatMap((chart) => chart.tempos ?? []);
    const { slots, clean } = slotsOf(takes);
    return [
      formatDay(day),
      timeOfDay(session.startMinute),
      timeOfDay(session.endMinute),
      rounded(minutes),
      takes.length,
      textCell(session.charts.map(({ chartTitle }) => chartTitle).join('; ')),
      [...new Set(session.charts.flatMap(({ levels }) => levels))].join(' '),
      tempos.length === 0 ? '' : Math.min(...tempos.map(({ fromBpm }) => fromBpm)),
      tempos.length === 0 ? '' : Math.max(...tempos.map(({ toBpm }) => toBpm)),
      slots,
      clean,
      textCell(session.remarks.map(({ text }) => text).join('\n')),
    ];
  });
  return table(SESSION_COLUMNS, rows);
}

/** One row a take under a header row, oldest first; the bars are empty for a whole form, the tempo for a mapped one. */
export function takesCsv(sessions: readonly PracticeSession[]): string {
  const takes = sessions.toReversed().flatMap((session) => session.takes);
  const rows = takes.map((take) => [
    formatDay(take.day),
    timeOfDay(take.minute),
    textCell(take.chartTitle),
    textCell(take.plan),
    textCell(take.key),
    take.level,
    take.tempoBpm ?? '',
    take.bars?.from ?? '',
    take.bars?.to ?? '',
    rounded(Math.max(0, take.endMs) / 60_000),
    take.slots,
    take.clean,
    textCell(take.note),
  ]);
  return table(TAKE_COLUMNS, rows);
}

function table(columns: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return [columns, ...rows].map((row) => `${row.join(',')}\r\n`).join('');
}

/** Hundredths of a minute. */
function rounded(minutes: number): number {
  return Math.round(minutes * 100) / 100;
}

/** `18:05`, of minutes since midnight. */
function timeOfDay(minute: number): string {
  return new Date(minute * 60_000).toISOString().slice(11, 16);
}
