/** What the progress screens are told, over a library with takes in it: as the core judges them, and up to date. */

import { setImmediate } from 'node:timers/promises';
import { describe, expect, test } from 'vitest';
import type { HeatWish, TakeFigures, TakeSetUp } from '../../../shared/bridge/index.ts';
import {
  createGoalBook,
  createHistory,
  createPracticeBook,
  createProgressHandlers,
  readAhead,
} from '../../../src/main/progress/index.ts';
import { restNow } from '../../../src/main/progress/rest.ts';
import {
  createChartOutlines,
  createTakeStore,
  openLibrary,
} from '../../../src/main/store/index.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const NOW_MS = Date.UTC(2026, 5, 1, 18);
const DAY_MS = 86_400_000;
const TEXT = 'title: Pier\nkey: C\nmeter: 4/4\ntempo: 80\n| Cmaj7 | Dm7 | G7 | Cmaj7 |\n';
const NAME = { chartId: 'pier', plan: 'plain', key: 'C', level: 'steps' } as const;

function setUp(tempoBpm: number, bars: TakeSetUp['bars'] = null): TakeSetUp {
  const base = setUpFor('pier');
  return {
    ...base,
    chartText: TEXT,
    bars,
    grade: { ...base.grade, tempo: { kind: 'steady', tempoBpm } },
  };
}

/** Four choruses of four bars, enough for a raise; `wrong` slots of bar 3 are outside. */
function figures(wrong: number): TakeFigures {
  const bars = [1, 2, 3, 4].map((bar) => ({
    ...{ bar, slots: 16 },
    clean: bar === 3 ? 16 - wrong : 16,
  }));
  return {
    ...{
      slots: 64,
      clean: 64 - wrong,
      changesCounted: 6,
      changesOnTime: 6,
      changesUnproven: 0,
      changesLeftOut: 0,
    },
    evidence: {
      choruses: 4,
      bars,
      lateChanges: [],
      chords: bars.map(({ bar, slots, clean }) => ({
        ...{ bar, beat: 1, chord: bar === 3 ? 'G7' : 'Cmaj7', slots, clean },
        faults: clean === slots ? {} : { outside: slots - clean },
        arrivals: bar === 1 ? null : { onTime: 2, unproven: 0, lateBySlots: [] },
      })),
    },
  };
}

function open() {
  const database = openLibrary(':memory:');
  const takes = createTakeStore(database);
  const history = createHistory(database);
  const practiceBook = createPracticeBook();
  const goalBook = createGoalBook({
    charts: () => [{ chartId: 'pier', title: 'Pier', text: TEXT }],
    settings: () => ({ 'practice pier': { goalBpm: 72 } }),
    outlines: createChartOutlines(database),
    version: '1.0.0',
  });
  const calls = createProgressHandlers({
    history,
    practiceBook,
    goalBook,
    minutesPlayedSince: (fromMs) => takes.minutesSince(fromMs),
    nowMs: () => NOW_MS,
    ...HERE,
  });
  function add(
    daysAgo: number,
    tempoBpm: number,
    wrong: number,
    bars: TakeSetUp['bars'] = null,
    key = 'C',
  ) {
    const atMs = NOW_MS - daysAgo * DAY_MS - 60_000;
    const takeId = takes.add({ ...setUp(tempoBpm, bars), key }, atMs, [], 60_000, figures(wrong));
    history.changed(takeId);
    return takeId;
  }
  const ahead = () =>
    readAhead({
      ...{ history, practiceBook, goalBook, ask: calls, nowMs: NOW_MS, rest: restNow, ...HERE },
    });
  const practices = () => calls['progress.practices']({ most: null, ...HERE }).practices;
  return { database, takes, history, calls, add, ahead, practices };
}

const HERE = { utcOffsetMinutes: 0 };
const HEAT: HeatWish = {
  ...NAME,
  ...{ tempoBpm: null, playedAtMs: null, utcOffsetMinutes: 0 },
  picture: 'rulesByBars',
};

/** What the screen asks for before anything is chosen. */
const FIRST_PICTURE: HeatWish = { ...HEAT, plan: null, key: null, level: null };

test('a picture is the same as long as no take has changed, and one of other takes then', () => {
  const { calls, add } = open();
  add(2, 60, 0);
  const first = calls['progress.heat'](FIRST_PICTURE);
  expect(calls['progress.heat'](FIRST_PICTURE)).toBe(first);
  const other = { ...FIRST_PICTURE, utcOffsetMinutes: HERE.utcOffsetMinutes + 60 };
  expect(calls['progress.heat'](other)).not.toBe(first);
  add(1, 60, 0);
  expect(calls['progress.heat'](FIRST_PICTURE).takes).toBe(2);
});

describe('what is read ahead', () => {
  test('answers what the screens ask first without the library', async () => {
    const { database, calls, history, add, ahead, practices } = open();
    for (let take = 0; take < 60; take++) add(take * 2, 60 + (take % 3), take % 4);
    const before = practices();
    const picture = calls['progress.heat'](FIRST_PICTURE);
    history.forget();
    await ahead();
    database.close();
    expect(practices()).toEqual(before);
    expect(calls['progress.heat'](FIRST_PICTURE)).toEqual(picture);
    expect(calls['progress.ladder']({ chartId: 'pier' }).rungs).not.toEqual([]);
  });

  test('has a take that comes while it is read, and has lost one that goes', async () => {
    const { history, takes, add, ahead, practices } = open();
    const ids = Array.from({ length: 40 }, (_, take) => add(take * 15, 60, 0));
    await history.warmUp();
    history.forget();
    const reading = ahead();
    for (let turn = 0; turn < 40; turn++) await setImmediate();
    add(0, 60, 0);
    for (const takeId of [ids[0] ?? '', ids[2] ?? '']) {
      takes.setDeleted(takeId, NOW_MS);
      history.changed(takeId);
    }
    await reading;
    expect(practices()).toMatchObject([{ takes: 39 }]);
  });

  test('is nothing where nothing was played, and where the library is closed', async () => {
    const { database, history, ahead, practices } = open();
    await ahead();
    expect(practices()).toEqual([]);
    history.forget();
    database.close();
    await ahead();
  });
});

describe('the practices', () => {
  test('are told of in short, so many as are asked for, the one played last first; named are all', () => {
    const { calls, add, practices } = open();
    add(5, 60, 0, null, 'F');
    add(1, 60, 0, null, 'G');
    add(3, 60, 0);
    const keysOf = (told: readonly { readonly key: string }[]) => told.map(({ key }) => key);
    expect(keysOf(practices())).toEqual(['G', 'C', 'F']);
    const two = calls['progress.practices']({ most: 2, ...HERE });
    expect(two.practices).toEqual(practices().slice(0, 2));
    expect(keysOf(two.all)).toEqual(['G', 'C', 'F']);
  });

  test('are due by the days they were played on, each by its own', () => {
    const { calls, add, practices } = open();
    for (const daysAgo of [40, 30, 20]) add(daysAgo, 60, 0, null, 'F');
    add(0, 60, 0);
    const [here, long] = practices();
    expect(here?.standing.due.inDays).toBeGreaterThan(0);
    expect(long).toMatchObject({ key: 'F', standing: { daysSince: 20 } });
    const dues = practices().map(({ standing }) => standing.due);
    const most1 = calls['progress.practices']({ most: 1, ...HERE }).practices;
    expect(most1.map(({ standing }) => standing.due)).toEqual(dues.slice(0, 1));
  });

  test('tell the tempo that holds, the goal, and turn with the next take', () => {
    const { add, practices } = open();
    expect(practices()).toEqual([]);
    add(1, 60, 0);
    add(1, 60, 1);
    const [practice] = practices();
    expect(practice).toMatchObject({
      ...NAME,
      takes: 2,
      standing: {
        ...{ presentBpm: 60, holdsBpm: 60, goalBpm: 72 },
        advice: { tempoBpm: 60, verdict: { verdict: 'raise', nextTempoBpm: 62 } },
      },
    });
    add(0, 62, 12);
    expect(practices()).toMatchObject([
      {
        takes: 3,
        standing: { presentBpm: 62, holdsBpm: 60, advice: { verdict: { verdict: 'hold' } } },
      },
    ]);
  });

  test('forget a deleted take, and take it back', () => {
    const { add, takes, history, practices } = open();
    const takeId = add(0, 60, 0);
    takes.setDeleted(takeId, NOW_MS);
    history.changed(takeId);
    expect(practices()).toEqual([]);
    takes.setDeleted(takeId, null);
    history.changed(takeId);
    expect(practices()).toHaveLength(1);
  });

  test('are the same whether the history was read before or take by take', async () => {
    const { add, history, practices } = open();
    for (let take = 0; take < 250; take++) add(take / 8, 60 + (take % 5), take % 3);
    const read = practices();
    expect(read.reduce((sum, { takes }) => sum + takes, 0)).toBe(250);
    history.forget();
    await history.warmUp();
    expect(practices()).toEqual(read);
    history.forget();
    expect(practices()).toEqual(read);
  });
});

test('one practice has its weak place, with a drill whose state comes from takes of these bars alone', () => {
  const { calls, add } = open();
  for (let take = 0; take < 4; take++) add(1, 60, 8);
  const ask = () => calls['progress.practice']({ practice: NAME, ...HERE });
  const [place] = ask().places;
  expect(place).toMatchObject({
    bars: { from: 2, to: 3 },
    drill: { from: 1, to: 4 },
    drillBpm: 55,
  });
  expect(place?.words).toContain('outside, 32 times');
  const before = ask().takes.length;
  add(0, 55, 0, { from: 1, to: 4 });
  expect(ask().takes).toHaveLength(before);
  expect(ask().places[0]?.drillBpm).toBe(57);
});

test('a practice nobody played is refused in words', () => {
  const { calls } = open();
  const ask = () => calls['progress.practice']({ practice: { ...NAME, key: 'Eb' }, ...HERE });
  expect(ask).toThrow('Nothing of this was played.');
});

test('the ladder knows the goal set for the chart and what has held', () => {
  const { calls, add } = open();
  add(0, 72, 0);
  const { rungs } = calls['progress.ladder']({ chartId: 'pier' });
  expect(rungs.slice(0, 2)).toMatchObject([
    { level: 'steps', key: 'C', state: 'done', isNext: false },
    { level: 'thirds', key: 'C', state: 'notBegun', isNext: true },
  ]);
  expect(calls['progress.ladder']({ chartId: 'nowhere' }).rungs).toEqual([]);
});

describe('the heat', () => {
  test('counts faults by bar, leads to the takes, and passes the filter', () => {
    const { calls, add } = open();
    const bad = add(100, 60, 4);
    const worse = add(0, 66, 6);
    const all = calls['progress.heat'](HEAT);
    expect([all.takes, all.columns]).toEqual([2, ['1', '2', '3', '4']]);
    const outside = all.cells[all.rows.indexOf('outside')];
    expect(outside?.[2]).toEqual({ hits: 10, of: 32, takeIds: [worse, bad] });
    const slow = calls['progress.heat']({ ...HEAT, tempoBpm: { from: 55, to: 62 } });
    expect(slow.cells[slow.rows.indexOf('outside')]?.[2]).toEqual({
      ...{ hits: 4, of: 16, takeIds: [bad] },
    });
  });

  test('sorts chords by kind and root, also of takes older than what is kept in memory', () => {
    const { calls, add } = open();
    add(100, 60, 4);
    const heat = calls['progress.heat']({ ...HEAT, picture: 'chordsByRoots', chartId: null });
    const row = heat.cells[heat.rows.indexOf('dominant')];
    expect(row?.[heat.columns.indexOf('G')]).toMatchObject({ hits: 4, of: 16 });
    expect(heat.uncounted).toBe(0);
  });
});

test('the session keeps to the minutes and to what is left of the day', () => {
  const { calls, add } = open();
  for (let take = 0; take < 3; take++) add(20, 60, 0);
  const wish = { minutes: 20, locked: [], skippedIds: [], ...HERE };
  const { session, playedMinutes } = calls['progress.session']({ ...wish, dailyLimitMinutes: 90 });
  expect(playedMinutes).toBe(0);
  expect(session.items.length).toBeGreaterThan(0);
  expect(session.items.reduce((sum, { minutes }) => sum + minutes, 0)).toBeLessThanOrEqual(20);
  add(0, 60, 0);
  const late = calls['progress.session']({ ...wish, dailyLimitMinutes: 1 });
  expect([late.playedMinutes, late.session.items]).toEqual([1, []]);
});
