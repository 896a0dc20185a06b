/** Takes into sessions, sessions over the days of a month. Own rules; the calendar by ISO 8601. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  firstDayOf,
  formatDay,
  journalOf,
  monthOf,
  monthsLater,
  monthView,
  parseDay,
  SESSION_GAP_MS,
  sameDateLater,
} from '../../../src/core/journal/index.ts';
import { anyTakes, EVENING_MS, MINUTE_MS, remarkAt, take, wallClock } from './journal-takes.ts';

/** Played where clocks are an hour ahead of UTC. */
const inBerlin = (wish: Parameters<typeof take>[0]) =>
  take({ ...wish, ...wallClock(wish.startedAtMs ?? EVENING_MS, 60) });

describe('sessions', () => {
  test('are parted by a pause of half an hour, and by nothing shorter', () => {
    const endMs = 2 * MINUTE_MS;
    const at = (pauseMs: number) =>
      journalOf(
        [take({ takeId: 'b', startedAtMs: EVENING_MS + endMs + pauseMs }), take({ takeId: 'a' })],
        [],
      ).sessions.map(({ takes }) => takes.map(({ takeId }) => takeId));
    expect(at(SESSION_GAP_MS - 1)).toEqual([['a', 'b']]);
    expect(at(SESSION_GAP_MS)).toEqual([['b'], ['a']]);
    expect(at(SESSION_GAP_MS + 1)).toEqual([['b'], ['a']]);
  });

  test('go on while a long take does that another one lies within', () => {
    const within = { startedAtMs: EVENING_MS + MINUTE_MS, endMs: MINUTE_MS };
    const takes = [
      take({ takeId: 'long', endMs: 90 * MINUTE_MS }),
      take({ takeId: 'within', ...within }),
      take({ takeId: 'after', startedAtMs: EVENING_MS + 119 * MINUTE_MS }),
    ];
    expect(journalOf(takes, []).sessions).toHaveLength(1);
  });

  test('tell their day, span, minutes and what was played of each chart', () => {
    const { sessions } = journalOf(
      [
        // Half past midnight of the fifteenth in Berlin.
        inBerlin({ takeId: 'a', startedAtMs: Date.UTC(2026, 2, 14, 23, 30), tempoBpm: 72 }),
        inBerlin({
          ...{ takeId: 'b', startedAtMs: Date.UTC(2026, 2, 14, 23, 40), level: 'leaps' },
          ...{ chartId: 'quay', chartTitle: 'Quay', slots: 10, clean: 4, endMs: 30_000 },
          tempoBpm: null,
        }),
        inBerlin({
          ...{ takeId: 'c', startedAtMs: Date.UTC(2026, 2, 14, 23, 50), chartTitle: 'Longer Pier' },
          ...{ key: 'Em', level: 'thirds', clean: 32 },
        }),
      ],
      [],
    );
    expect(sessions).toHaveLength(1);
    expect(sessions[0]).toMatchObject({
      day: parseDay('2026-03-15'),
      ...{ startMinute: 30, endMinute: 52 },
      startMs: Date.UTC(2026, 2, 14, 23, 30),
      endMs: Date.UTC(2026, 2, 14, 23, 52),
      minutes: 4.5,
      charts: [
        {
          ...{ chartTitle: 'Longer Pier', takes: 2, minutes: 4, levels: ['steps', 'thirds'] },
          ...{ keys: ['Dm', 'Em'], tempos: { fromBpm: 66, toBpm: 72 }, slots: 128, clean: 96 },
        },
        { chartTitle: 'Quay', takes: 1, levels: ['leaps'], tempos: null, slots: 10, clean: 4 },
      ],
    });
  });

  test('end by the clock of the place, also after midnight', () => {
    const late = take({
      takeId: 'a',
      startedAtMs: EVENING_MS + 350 * MINUTE_MS,
      endMs: 20 * MINUTE_MS,
    });
    const [session] = journalOf([late], []).sessions;
    expect(session).toMatchObject({ startMinute: 23 * 60 + 50, endMinute: 10 });
  });

  test('hold each take once, in whatever order takes come, and are parted just where the rule says', () => {
    fc.assert(
      fc.property(anyTakes, (takes) => {
        const { sessions } = journalOf(takes, []);
        const oldestFirst = sessions.toReversed();
        const ids = oldestFirst.flatMap((session) => session.takes.map(({ takeId }) => takeId));
        expect(ids.toSorted()).toEqual(takes.map(({ takeId }) => takeId).toSorted());
        const shuffled = journalOf(takes.toReversed(), []).sessions;
        expect(shuffled.map(({ startMs, endMs }) => [startMs, endMs])).toEqual(
          sessions.map(({ startMs, endMs }) => [startMs, endMs]),
        );
        for (const [index, { startMs }] of oldestFirst.entries()) {
          const before = oldestFirst[index - 1];
          if (before !== undefined) expect(startMs - before.endMs >= SESSION_GAP_MS).toBe(true);
        }
        for (const { takes: own } of sessions) {
          let endMs = own[0]?.startedAtMs ?? 0;
          for (const { startedAtMs, endMs: lengthMs } of own) {
            expect(startedAtMs - endMs < SESSION_GAP_MS).toBe(true);
            endMs = Math.max(endMs, startedAtMs + lengthMs);
          }
        }
      }),
    );
  });

  test('lose no minute: takes, charts, sessions and days of the months come to the same', () => {
    fc.assert(
      fc.property(anyTakes, (takes) => {
        const { sessions } = journalOf(takes, []);
        const played = takes.reduce((sum, { endMs }) => sum + endMs, 0) / MINUTE_MS;
        const sum = (own: readonly { readonly minutes: number }[]) =>
          own.reduce((all, { minutes }) => all + minutes, 0);
        expect(sum(sessions)).toBeCloseTo(played, 6);
        expect(sum(sessions.flatMap(({ charts }) => charts))).toBeCloseTo(played, 6);
        const months = [2, 3, 4].map((month) => monthView(sessions, { year: 2026, month }));
        expect(sum(months)).toBeCloseTo(played, 6);
      }),
    );
  });
});

describe('a remark', () => {
  const takes = [
    take({ takeId: 'a' }),
    take({ takeId: 'b', startedAtMs: EVENING_MS + 120 * MINUTE_MS }),
  ];
  const remark = (minutes: number) => remarkAt(EVENING_MS + minutes * MINUTE_MS, `${minutes}`);

  test('goes with the session it was written in, else with the nearest of its day, else it is loose', () => {
    const all = [remark(119), remark(0), remark(-17 * 60), remark(7 * 60)];
    const { sessions, looseRemarks } = journalOf(takes, all);
    expect(sessions.map(({ remarks }) => remarks.map(({ text }) => text))).toEqual([
      ['119'],
      ['-1020', '0'],
    ]);
    expect(looseRemarks.map(({ text }) => text)).toEqual(['420']);
  });

  test('stays with a session that began before midnight when it was written after', () => {
    const long = take({ takeId: 'c', endMs: 400 * MINUTE_MS });
    expect(journalOf([long], [remark(390)]).sessions[0]?.remarks).toHaveLength(1);
  });
});

describe('a month', () => {
  test('begins and ends with whole weeks, Monday first, and sums its own days alone', () => {
    const { sessions } = journalOf(
      [
        take({ takeId: 'a' }),
        take({ takeId: 'b', startedAtMs: EVENING_MS + 60 * MINUTE_MS }),
        take({ takeId: 'c', startedAtMs: Date.UTC(2026, 3, 1, 12) }),
      ],
      [],
    );
    const { weeks, minutes, daysPractised } = monthView(sessions, { year: 2026, month: 3 });
    // March 2026 begins on a Sunday and ends on a Tuesday.
    expect(weeks).toHaveLength(6);
    expect(weeks.map(([monday]) => formatDay(monday?.day ?? 0))[0]).toBe('2026-02-23');
    expect(formatDay(weeks.at(-1)?.at(-1)?.day ?? 0)).toBe('2026-04-05');
    expect(weeks[2]?.[5]).toEqual({
      day: parseDay('2026-03-14'),
      isInMonth: true,
      minutes: 4,
      sessions: 2,
    });
    expect([minutes, daysPractised]).toEqual([4, 1]);
    expect(weeks[5]?.[2]).toMatchObject({ isInMonth: false, minutes: 2 });
  });

  test('is reached from any other, and its dates are read back', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 2_900_000 }),
        fc.integer({ min: -30, max: 30 }),
        (day, months) => {
          expect(parseDay(formatDay(day))).toBe(day);
          const month = monthOf(day);
          expect(monthsLater(monthsLater(month, months), -months)).toEqual(month);
          const moved = sameDateLater(day, months);
          expect(monthOf(moved)).toEqual(monthsLater(month, months));
          expect(moved - firstDayOf(monthOf(moved)) <= day - firstDayOf(month)).toBe(true);
        },
      ),
    );
  });

  test.each([
    ['2026-03-31', -1, '2026-02-28'],
    ['2024-01-31', 1, '2024-02-29'],
    ['2026-12-05', 1, '2027-01-05'],
  ])('from %s by %i is %s', (from, months, to) => {
    expect(formatDay(sameDateLater(parseDay(from) ?? 0, months))).toBe(to);
  });

  test.each(['2026-02-30', '2026-13-01', '14.3.2026', '2026-3-1', ''])('%j is no date', (text) => {
    expect(parseDay(text)).toBeNull();
  });
});
