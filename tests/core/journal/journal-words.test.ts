/** Search, tables and the report for a teacher. Tables are read by a reader written here after RFC 4180, section 2. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  describeMinutes,
  describeStanding,
  findInJournal,
  journalOf,
  parseDay,
  sessionsCsv,
  standingOf,
  takesCsv,
  teacherReport,
} from '../../../src/core/journal/index.ts';
import { anyTakes, EVENING_MS, MINUTE_MS, take } from './journal-takes.ts';

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
        const { sessions } = journalOf(takes, [], 60);
        const [header, ...rows] = readCsv(takesCsv(sessions, 60));
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

  test('of sessions has a row each, oldest first, with times of the player’s own', () => {
    const { sessions } = journalOf(
      [
        take({ takeId: 'a', endMs: 100_000, clean: 60 }),
        take({
          takeId: 'b',
          chartId: 'q',
          chartTitle: 'Quay, "late"',
          startedAtMs: EVENING_MS + 1,
        }),
        take({ takeId: 'c', startedAtMs: EVENING_MS + 6 * HOUR_MS, tempoBpm: null }),
      ],
      [{ atMs: EVENING_MS, text: '=cold\nhands' }],
      -60,
    );
    expect(readCsv(sessionsCsv(sessions, -60)).slice(1)).toEqual([
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
    [{ atMs: EVENING_MS, text: 'Cold hands' }],
    0,
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
    { atMs: EVENING_MS, text: 'Cold hands, slow start' },
    { atMs: EVENING_MS + HOUR_MS, text: 'Line held' },
  ];
  const found = (search: string) =>
    findInJournal({ sessions: [], looseRemarks }, search).looseRemarks.map(({ text }) => text);
  expect(found('HANDS cold')).toEqual(['Cold hands, slow start']);
  expect(found('cold held')).toEqual([]);
  expect(found(' ')).toHaveLength(2);
});

describe('a standing', () => {
  const at = (tempoBpm: number, clean: number, more: Partial<Parameters<typeof take>[0]> = {}) =>
    take({ takeId: `${tempoBpm} ${clean}`, tempoBpm, clean, ...more });

  test('needs 64 slots, nine in ten clean; on the edge it stands', () => {
    const wide = { slots: 70 };
    expect(standingOf([at(66, 63, wide)])).toEqual({ kind: 'stands', tempoBpm: 66 });
    expect(standingOf([at(66, 62, wide)])).toMatchObject({ kind: 'notYet', slots: 70, clean: 62 });
    expect(standingOf([at(66, 63, { slots: 63 })])).toMatchObject({ kind: 'notYet' });
    expect(standingOf([at(66, 32, { slots: 32 }), at(66, 32, { slots: 32 })]).kind).toBe('stands');
  });

  test('rises from the first tempo that stood to the fastest that does, whatever order takes come in', () => {
    const later = (hours: number) => ({ startedAtMs: EVENING_MS + hours * HOUR_MS });
    const rising = [at(80, 20, later(3)), at(60, 64), at(72, 60, later(2)), at(66, 64, later(1))];
    expect(standingOf(rising)).toEqual({ kind: 'rose', fromBpm: 60, toBpm: 72 });
    const falling = [at(72, 64), at(72, 0, later(1)), at(60, 64, later(2))];
    expect(standingOf(falling)).toEqual({ kind: 'fell', fromBpm: 72, toBpm: 60 });
  });

  test('of some bars, or of what was not graded, is none', () => {
    const bars = (from: number, to: number) => at(66, 64, { bars: { from, to } });
    expect(standingOf([bars(5, 8), bars(1, 1), bars(5, 8)])).toEqual({
      kind: 'parts',
      bars: [
        { from: 1, to: 1 },
        { from: 5, to: 8 },
      ],
    });
    expect(standingOf([at(66, 0, { slots: 0 })])).toEqual({ kind: 'ungraded' });
    expect(describeStanding(standingOf([bars(5, 8), bars(1, 1)]))).toBe('Some bars alone: 1, 5–8.');
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
    [{ atMs: day(10), text: 'cold' }],
    0,
  );
  const report = teacherReport(sessions, parseDay('2026-03-10') ?? 0, parseDay('2026-03-12') ?? 0);
  expect(report).toMatchObject({ daysInSpan: 3, daysPractised: 2, sessions: 3, minutes: 11 });
  expect(report.charts.map(({ chartTitle }) => chartTitle)).toEqual(['Long Pier', 'Quay']);
  expect(
    report.charts[0]?.practices.map(({ key, standing }) => [key, describeStanding(standing)]),
  ).toEqual([
    ['Dm', 'Rose from 66 to 72, where it stands.'],
    ['Em', 'Does not stand at any tempo yet: 50 % of 64 slots clean at 66, the tempo played last.'],
  ]);
  expect(report.remarks).toEqual([{ atMs: day(10), text: 'cold' }]);
  expect(teacherReport(sessions, 5, 4)).toMatchObject({ daysInSpan: 0, sessions: 0, charts: [] });
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
