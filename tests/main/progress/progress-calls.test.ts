/** What the progress screens are told, over a library with takes in it: as the core judges them, and up to date. */

import { describe, expect, test } from 'vitest';
import type { HeatWish, TakeFigures, TakeSetUp } from '../../../shared/bridge/index.ts';
import { describePlace } from '../../../src/core/progress/index.ts';
import { HEAT_RULES } from '../../../src/core/words.ts';
import {
  createGoalBook,
  createHistory,
  createProgressHandlers,
} from '../../../src/main/progress/index.ts';
import {
  civilTimeAt,
  createChartOutlines,
  createLibrary,
  createTakeFacts,
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
  const library = createLibrary(database);
  const calls = createProgressHandlers({
    history: createHistory(database),
    goalBook: createGoalBook({
      charts: () => [{ chartId: 'pier', title: 'Pier', text: TEXT }],
      settings: () => ({ 'practice pier': { goalBpm: 72 } }),
      outlinesOf: createChartOutlines(database, '1.0.0'),
    }),
    minutesPlayedOn: (day) => takes.minutesOn(day),
    now: () => ({ nowMs: NOW_MS, today: civilTimeAt(NOW_MS).day }),
  });
  function add(
    daysAgo: number,
    tempoBpm: number,
    wrong: number,
    bars: TakeSetUp['bars'] = null,
    key = 'C',
  ) {
    const atMs = NOW_MS - daysAgo * DAY_MS - 60_000;
    return takes.add({ ...setUp(tempoBpm, bars), key }, atMs, [], 60_000, figures(wrong));
  }
  const practices = () => calls['progress.practices']({ most: null }).practices;
  return { database, library, takes, calls, add, practices };
}

const HEAT: HeatWish = {
  ...NAME,
  ...{ tempoBpm: null, playedAtMs: null },
  picture: 'rulesByBars',
};

describe('days', () => {
  /** A take of so long before, by the wall clock of a place. */
  function played(hoursAgo: number, civil: { readonly day: number; readonly zone: string }) {
    const opened = open();
    const takeId = opened.add(hoursAgo / 24, 60, 0);
    opened.database
      .prepare('UPDATE takes SET day = ?, zone = ? WHERE take_id = ?')
      .run(civil.day, civil.zone, takeId);
    createTakeFacts(opened.database).write(takeId);
    return opened.practices()[0]?.standing.daysSince;
  }
  const TODAY = civilTimeAt(NOW_MS).day;

  test('yesterday evening is yesterday in the morning, though it was ten hours ago', () => {
    expect(played(10, { day: TODAY - 1, zone: 'Europe/Berlin' })).toBe(1);
  });

  test('are those of the place: a take of thirty hours ago, played where it was today already, is of today', () => {
    expect(played(30, { day: TODAY, zone: 'Pacific/Auckland' })).toBe(0);
  });

  test('of a clock that was years off are not believed', () => {
    expect(played(1, { day: TODAY + 4000, zone: 'Europe/Berlin' })).toBe(0);
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
    const two = calls['progress.practices']({ most: 2 });
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
    const most1 = calls['progress.practices']({ most: 1 }).practices;
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
    const { add, takes, practices } = open();
    const takeId = add(0, 60, 0);
    takes.setDeleted(takeId, NOW_MS);
    expect(practices()).toEqual([]);
    takes.setDeleted(takeId, null);
    expect(practices()).toHaveLength(1);
  });

  test('of which the chart has another form by now are none, until it has the old one again', () => {
    const { library, calls, add, practices } = open();
    library.saveChart('pier', 'Pier', TEXT, NOW_MS);
    add(1, 60, 0);
    library.saveChart('pier', 'The Pier', TEXT.replace('Pier', 'The Pier'), NOW_MS);
    expect(practices()).toHaveLength(1);
    library.saveChart('pier', 'Pier', TEXT.replace('G7', 'Db7'), NOW_MS);
    expect(practices()).toEqual([]);
    const { before } = calls['progress.practices']({ most: null });
    expect(before).toMatchObject([{ ...NAME, takes: 1, lastBpm: 60, heldBpm: 60 }]);
    library.saveChart('pier', 'Pier', TEXT, NOW_MS);
    expect(practices()).toMatchObject([{ takes: 1 }]);
  });
});

test('one practice has its weak place, with a drill whose state comes from takes of these bars alone', () => {
  const { calls, add } = open();
  for (let take = 0; take < 4; take++) add(1, 60, 8);
  const ask = () => calls['progress.practice']({ practice: NAME });
  const [place] = ask().places;
  expect(place).toMatchObject({
    place: { from: 2, to: 3 },
    drill: { from: 1, to: 4 },
    state: { tempoBpm: 55 },
  });
  expect(place && describePlace(place.place)).toContain('outside, 32 times');
  const before = ask().takes.length;
  add(0, 55, 0, { from: 1, to: 4 });
  expect(ask().takes).toHaveLength(before);
  expect(ask().places[0]?.state.tempoBpm).toBe(57);
});

test('a practice nobody played is refused in words', () => {
  const { calls } = open();
  const ask = () => calls['progress.practice']({ practice: { ...NAME, key: 'Eb' } });
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
    expect([all.takes, all.axes.columns]).toEqual([2, [1, 2, 3, 4]]);
    const outside = all.cells[HEAT_RULES.indexOf('outside')];
    expect(outside?.[2]).toEqual({ hits: 10, of: 32, takeIds: [worse, bad] });
    const slow = calls['progress.heat']({ ...HEAT, tempoBpm: { from: 55, to: 62 } });
    expect(slow.cells[HEAT_RULES.indexOf('outside')]?.[2]).toEqual({
      ...{ hits: 4, of: 16, takeIds: [bad] },
    });
  });

  test('sorts chords by kind and root, also of takes of long ago', () => {
    const { calls, add } = open();
    add(100, 60, 4);
    const heat = calls['progress.heat']({ ...HEAT, picture: 'chordsByRoots', chartId: null });
    const { axes } = heat;
    if (axes.picture !== 'chordsByRoots') throw new Error(axes.picture);
    const row = heat.cells[axes.rows.indexOf('dominant')];
    expect(row?.[axes.columns.indexOf(7)]).toMatchObject({ hits: 4, of: 16 });
    expect(heat.uncounted).toBe(0);
  });
});

test('the session keeps to the minutes and to what is left of the day', () => {
  const { calls, add } = open();
  for (let take = 0; take < 3; take++) add(20, 60, 0);
  const wish = { minutes: 20, locked: [], skippedIds: [] };
  const { session, playedMinutes } = calls['progress.session']({ ...wish, dailyLimitMinutes: 90 });
  expect(playedMinutes).toBe(0);
  expect(session.items.length).toBeGreaterThan(0);
  expect(session.items.reduce((sum, { minutes }) => sum + minutes, 0)).toBeLessThanOrEqual(20);
  add(0, 60, 0);
  const late = calls['progress.session']({ ...wish, dailyLimitMinutes: 1 });
  expect([late.playedMinutes, late.session.items]).toEqual([1, []]);
});
