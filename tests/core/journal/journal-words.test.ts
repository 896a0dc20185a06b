/** Search, tables and the report for a teacher. Tables are read by a reader written here after RFC 4180, section 2. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  describeMinutes,
  describePlayed,
  findInJournal,
  type JournalTake,
  journalOf,
  parseDay,
  playedInSpan,
  sessionsCsv,
  takesCsv,
  teacherReport,
} from '../../../src/core/journal/index.ts';
import { anyTakes, EVENING_MS, MINUTE_MS, remarkAt, take, wallClock } from './journal-takes.ts';

const HOUR_MS = 60 * MINUTE_MS;

/** Records of fields; quotes doubled inside quotes. */
function readCsv(text: string): readonly (readonly string[])[] {
  const records: string[][] = [];
  let fields: string[] = [];
  const pattern = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/gy;
  for (let match = pattern.exec(text); match !== null; match = pattern.exec(text)) {
    fields.push(match[1]?.replaceAll('""', '"') ?? match[2] ?? '');
    if (match[3] === ',') continue;
    records.push(fields);
    fields = [];
    if (pattern.lastIndex === text.length) return records;
  }
  throw new Error(`no table from ${JSON.stringify(text.slice(0, 200))}`);
}

/** What a table program may take for a formula; signs of full width are as good, and space before them is passed over. */
const FORMULA = /^(?:\s*[=+\-@＝＋－＠]|[\t\r\n])/u;

/** A text as the table has it: a formula is behind an apostrophe. */
const inTable = (text: string) => (FORMULA.test(text) ? `'${text}` : text);

describe('a table', () => {
  test('of takes is read back: a row a take, each text as it was, no formula', () => {
    fc.assert(
      fc.property(anyTakes, (takes) => {
        const { sessions } = journalOf(takes, []);
        const [header, ...rows] = readCsv(takesCsv(sessions));
        expect(header?.length).toBe(13);
        const told = rows.map(([, , chart, plan, key, level, tempo, , , , slots, clean, note]) =>
          JSON.stringify([chart, plan, key, level, tempo, slots, clean, note]),
        );
        const played = takes.map((one) =>
          JSON.stringify([
            ...[inTable(one.chartTitle), inTable(one.plan), one.key, one.level],
            ...[`${one.tempoBpm ?? ''}`, `${one.slots}`, `${one.clean}`, inTable(one.note)],
          ]),
        );
        expect(told.toSorted()).toEqual(played.toSorted());
        expect(rows.flat().filter((cell) => FORMULA.test(cell))).toEqual([]);
      }),
    );
  });

  test('of sessions has a row each, oldest first, with times of the place', () => {
    // Where clocks are an hour behind UTC.
    const there = (wish: Parameters<typeof take>[0]) =>
      take({ ...wish, ...wallClock(wish.startedAtMs ?? EVENING_MS, -60) });
    const { sessions } = journalOf(
      [
        there({ takeId: 'a', endMs: 100_000, clean: 60 }),
        there({
          takeId: 'b',
          chartId: 'q',
          chartTitle: 'Quay, "late"',
          startedAtMs: EVENING_MS + 1,
        }),
        there({ takeId: 'c', startedAtMs: EVENING_MS + 6 * HOUR_MS, tempoBpm: null }),
      ],
      [remarkAt(EVENING_MS, '=cold\nhands')],
    );
    expect(readCsv(sessionsCsv(sessions)).slice(1)).toEqual([
      [
        ...['2026-03-14', '17:00', '17:02', '3.67', '2', 'Long Pier; Quay, "late"', 'steps'],
        ...['66', '66', '128', '124', "'=cold\nhands"],
      ],
      ['2026-03-14', '23:00', '23:02', '2', '1', 'Long Pier', 'steps', '', '', '64', '64', ''],
    ]);
  });
});

test('a search finds every word in titles, remarks, plans, levels, and keys in full', () => {
  const { sessions } = journalOf(
    [
      take({ takeId: 'a', note: 'Left hand asleep' }),
      take({
        ...{ takeId: 'b', startedAtMs: EVENING_MS + 2 * HOUR_MS, chartTitle: 'Quay', key: 'Bb' },
        ...{ level: 'thirds', plan: 'side door' },
      }),
    ],
    [remarkAt(EVENING_MS, 'Cold hands')],
  );
  const found = (search: string) =>
    findInJournal({ sessions, looseRemarks: [] }, search).sessions.map(
      ({ takes }) => takes[0]?.takeId,
    );
  expect(found(' ')).toEqual(['b', 'a']);
  expect(found('PIER asleep')).toEqual(['a']);
  expect(found('cold')).toEqual(['a']);
  expect(found('bb third')).toEqual(['b']);
  expect(found('side dm')).toEqual([]);
  expect(found('m')).toEqual([]);
});

test('remarks of which no take is left are found by their own words', () => {
  const looseRemarks = [
    remarkAt(EVENING_MS, 'Cold hands, slow start'),
    remarkAt(EVENING_MS + HOUR_MS, 'Line held'),
  ];
  const found = (search: string) =>
    findInJournal({ sessions: [], looseRemarks }, search).looseRemarks.map(({ text }) => text);
  expect(found('HANDS cold')).toEqual(['Cold hands, slow start']);
  expect(found('cold held')).toEqual([]);
  expect(found(' ')).toHaveLength(2);
});

describe('what was played of a practice in a span', () => {
  const at = (tempoBpm: number, clean: number, more: Partial<Parameters<typeof take>[0]> = {}) =>
    take({ takeId: `${tempoBpm} ${clean}`, tempoBpm, clean, ...more });
  const words = (...takes: readonly JournalTake[]) => describePlayed(playedInSpan(takes));

  test('is its first tempo, its last, and how clean it was, whatever order takes come in', () => {
    const later = (hours: number) => ({ startedAtMs: EVENING_MS + hours * HOUR_MS });
    expect(words(at(80, 20, later(3)), at(60, 64), at(72, 60, later(2)))).toBe(
      'Played at 60 first, at 80 last: 75 % of 192 slots clean.',
    );
    expect(words(at(66, 64), at(66, 32, later(1)))).toBe('Played at 66: 75 % of 128 slots clean.');
  });

  test('of some bars, or of what was not graded, is said to be that', () => {
    const bars = (from: number, to: number) => at(66, 64, { bars: { from, to } });
    expect(words(bars(5, 8), bars(1, 1), bars(5, 8))).toBe('Some bars alone: 1, 5–8.');
    expect(words(at(66, 0, { slots: 0 }))).toMatch(/^Played without a steady tempo/);
    // Beside a take of the whole form they are not told.
    expect(words(bars(5, 8), at(60, 64))).toBe('Played at 60: 100 % of 64 slots clean.');
  });
});

test('a report counts the days of its span, both ends with it, and tells each chart, the longest first', () => {
  const day = (date: number) => Date.UTC(2026, 2, date, 12);
  const { sessions } = journalOf(
    [
      take({ takeId: 'before', startedAtMs: day(9), endMs: HOUR_MS }),
      take({ takeId: 'a', startedAtMs: day(10) }),
      take({ takeId: 'b', startedAtMs: day(10) + HOUR_MS, key: 'Em', level: 'thirds', clean: 32 }),
      take({ takeId: 'c', startedAtMs: day(12), chartId: 'q', chartTitle: 'Quay', endMs: 300_000 }),
      take({ takeId: 'd', startedAtMs: day(12), tempoBpm: 72 }),
      take({ takeId: 'after', startedAtMs: day(13), endMs: HOUR_MS }),
    ],
    [remarkAt(day(10), 'cold')],
  );
  const [from, to] = [parseDay('2026-03-10') ?? 0, parseDay('2026-03-12') ?? 0];
  const report = teacherReport(sessions, from, to, new Map());
  expect(report).toMatchObject({ daysInSpan: 3, daysPractised: 2, sessions: 3, minutes: 11 });
  expect(report.charts.map(({ chartTitle }) => chartTitle)).toEqual(['Long Pier', 'Quay']);
  expect(
    report.charts[0]?.practices.map(({ key, played }) => [key, describePlayed(played)]),
  ).toEqual([
    ['Dm', 'Played at 66 first, at 72 last: 100 % of 128 slots clean.'],
    ['Em', 'Played at 66: 50 % of 64 slots clean.'],
  ]);
  expect(report.remarks).toEqual([remarkAt(day(10), 'cold')]);
  expect(teacherReport(sessions, 5, 4, new Map())).toMatchObject({
    daysInSpan: 0,
    sessions: 0,
    charts: [],
  });
});

test.each([
  [0, '0 minutes'],
  [0.2, 'under a minute'],
  [1.4, '1 minute'],
  [59.6, '1 h 00 min'],
  [125, '2 h 05 min'],
])('%d minutes are %s', (minutes, words) => {
  expect(describeMinutes(minutes)).toBe(words);
});
