/** What a session chooses from, and in which order: own rules, at the heads of `candidates.ts`, `mix.ts` and `start-tempo.ts`. */

import { describe, expect, test } from 'vitest';
import {
  describeItem,
  isPlayed,
  type PlayedTake,
  type PlayItem,
  practicesOf,
  proposeSession,
  type RangeTake,
  type SessionChart,
  type SessionWish,
} from '../../../src/core/progress/index.ts';
import { NOW, NOW_MS, take } from './takes.ts';

const PIER: SessionChart = {
  chartId: 'pier',
  chartTitle: 'Long Pier',
  plans: ['plain', 'side door'],
  keys: ['Dm', 'Gm'],
  goalBpm: 100,
};
const SWELL: SessionChart = { ...PIER, chartId: 'swell', chartTitle: 'Slow Swell' };

function propose(takes: readonly PlayedTake[], wish: Partial<SessionWish> = {}) {
  return proposeSession({
    minutes: 60,
    limitLeftMinutes: null,
    practices: practicesOf(takes, NOW_MS),
    charts: [PIER],
    drillTakes: [],
    ...NOW,
    locked: [],
    skippedIds: [],
    ...wish,
  }).items.filter(isPlayed);
}

const kinds = (items: readonly PlayItem[]) => items.map(({ kind }) => kind);
const ofKind = (items: readonly PlayItem[], wanted: PlayItem['kind']) =>
  items.filter(({ kind }) => kind === wanted);

/** Good, not ready: one chorus of the two a raise needs. */
const near = { clean: 64, evidence: { choruses: 1 } };

describe('due', () => {
  test('is what its days say, the likeliest lost first, at the tempo that holds', () => {
    const items = propose([
      take({ level: 'steps', daysAgo: 8, tempoBpm: 70 }),
      take({ level: 'thirds', daysAgo: 20, tempoBpm: 60 }),
      take({ level: 'leaps', daysAgo: 7, tempoBpm: 64 }),
    ]);
    expect(ofKind(items, 'due').map(({ play }) => [play.level, play.tempoBpm])).toEqual([
      ['thirds', 60],
      ['steps', 70],
    ]);
    expect(items[0] && describeItem(items[0])).toBe(
      'Due again: last played 20 days ago, and by now still there with a chance of about 82 %.',
    );
  });

  test('is taken up a step of ease under what has held when nothing holds any more', () => {
    const [item] = propose([take({ daysAgo: 40, tempoBpm: 100 })]);
    expect(item).toMatchObject({ kind: 'due', play: { tempoBpm: 92 } });
  });

  test('is also what was begun on an earlier day with too little to tell, after what is known', () => {
    const hardly = { level: 'free' as const, slots: 20, clean: 12 };
    const items = propose([take({ ...hardly, daysAgo: 2 }), take({ daysAgo: 12 })]);
    expect(ofKind(items, 'due').map(({ play }) => play.level)).toEqual(['steps', 'free']);
    expect(ofKind(items, 'due').map(describeItem)[1]).toBe(
      'Begun, last played 2 days ago, and too little to tell how it stands.',
    );
    expect(ofKind(propose([take(hardly)]), 'due')).toEqual([]);
  });

  test('counts days on the calendar of the player', () => {
    const lateMs = NOW_MS - 12.5 * 3_600_000;
    const [item] = propose([take({ clean: 30, evidence: { playedAtMs: lateMs } })]);
    expect(item?.why).toMatchObject({ kind: 'due', daysSince: 1 });
    const elsewhere = take({ clean: 30, day: NOW.today, evidence: { playedAtMs: lateMs } });
    expect(ofKind(propose([elsewhere]), 'due')).toEqual([]);
  });
});

describe('near a raise', () => {
  test('is what may be raised, at the next tempo, then what lacks little, at its own', () => {
    const items = propose([
      take({ level: 'thirds', tempoBpm: 72, ...near }),
      take({ level: 'steps', tempoBpm: 66 }),
    ]);
    const raises = ofKind(items, 'nearRaise');
    expect(raises.map(({ play }) => [play.level, play.tempoBpm])).toEqual([
      ['steps', 69],
      ['thirds', 72],
    ]);
    expect(raises.map(describeItem)).toEqual([
      'It holds at 66, so try 69.',
      'Close to a raise from 72: 1 more whole chorus to play. One more take to play, or one of 4 choruses.',
    ]);
  });

  test('stops at the goal', () => {
    expect(ofKind(propose([take({ tempoBpm: 98 })]), 'nearRaise')[0]?.play.tempoBpm).toBe(100);
    expect(ofKind(propose([take({ tempoBpm: 100 })]), 'nearRaise')).toEqual([]);
    expect(ofKind(propose([take({ tempoBpm: 100, ...near })]), 'nearRaise')).toHaveLength(1);
  });

  test('is not what is under nine in ten clean, late at changes or weak in a bar', () => {
    expect(ofKind(propose([take({ clean: 57 })]), 'nearRaise')).toEqual([]);
    expect(ofKind(propose([take({ clean: 58 })]), 'nearRaise')).toHaveLength(1);
    expect(ofKind(propose([take({ evidence: { changesOnTime: 1 } })]), 'nearRaise')).toEqual([]);
  });
});

describe('a weak place', () => {
  const weak = take({
    tempoBpm: 100,
    evidence: {
      bars: [1, 2, 3, 4, 5, 6].map((bar) => ({ bar, slots: 16, clean: bar === 3 ? 2 : 16 })),
    },
  });
  const looped = (tempoBpm: number): RangeTake => ({
    ...take({ tempoBpm }),
    bars: { from: 1, to: 4 },
  });
  const [item] = ofKind(propose([weak]), 'weakPlace');

  test('is looped with the bars around it, slower', () => {
    expect(item?.play).toMatchObject({ bars: { from: 1, to: 4 }, tempoBpm: 92 });
    expect(item && describeItem(item)).toBe(
      'Only 18 of 32 slots are clean in bars 2 and 3 at 100, so loop them alone at 92 until they hold.',
    );
  });

  test('goes on where its drill has come to, and goes back when it is done', () => {
    const drilled = (...drillTakes: readonly RangeTake[]) =>
      ofKind(propose([weak], { drillTakes }), 'weakPlace');
    expect(drilled(looped(92))[0]?.play.tempoBpm).toBe(96);
    expect(drilled(looped(100))).toEqual([]);
    expect(drilled({ ...looped(100), level: 'free' })).toHaveLength(1);
  });

  test('of more than thirty days ago tells nothing of today', () => {
    const old = { ...weak, evidence: { ...weak.evidence, playedAtMs: NOW_MS - 31 * 86_400_000 } };
    expect(ofKind(propose([old]), 'weakPlace')).toEqual([]);
  });
});

describe('a new thing', () => {
  test('is the next rung once all before it are done, a step of ease under what has held there', () => {
    const items = propose([take({ tempoBpm: 100 })]);
    expect(ofKind(items, 'newThing')[0]?.play).toMatchObject({ level: 'thirds', tempoBpm: 92 });
    expect(ofKind(propose([take({ tempoBpm: 99 })]), 'newThing')).toEqual([]);
  });

  test('in the next key follows the same rung of the key before', () => {
    const done = (['steps', 'thirds', 'leaps', 'free'] as const).map((level, index) =>
      take({ level, tempoBpm: 100 + index }),
    );
    const charts = [{ ...PIER, plans: ['plain'] }];
    const [item] = ofKind(propose(done, { charts }), 'newThing');
    expect(item?.play).toMatchObject({ key: 'Gm', level: 'steps', tempoBpm: 92 });
    expect(item && describeItem(item)).toBe(
      'Next on the ladder: steps in Gm, now that the rung before has held at 100.',
    );
  });

  test('begins at six tenths of the goal, or 60 without one', () => {
    const [first] = propose([]);
    expect(first?.play).toMatchObject({ level: 'steps', key: 'Dm', tempoBpm: 60 });
    expect(propose([], { charts: [{ ...PIER, goalBpm: 201 }] })[0]?.play.tempoBpm).toBe(121);
    expect(propose([], { charts: [{ ...PIER, goalBpm: null }] })[0]?.play.tempoBpm).toBe(60);
    expect(first && describeItem(first)).toBe(
      'Not begun yet: steps in Dm, slower than feels necessary.',
    );
  });

  test('comes from charts once begun first, and not more than twice a day', () => {
    const third = { ...PIER, chartId: 'lamp', chartTitle: 'Harbour Lamp' };
    const items = propose([take({ tempoBpm: 100, daysAgo: 1 })], { charts: [SWELL, third, PIER] });
    expect(ofKind(items, 'newThing').map(({ play }) => play.chartTitle)).toEqual([
      'Long Pier',
      'Slow Swell',
    ]);
  });
});

describe('the mix', () => {
  test('alternates the kinds, and never plays one practice whole twice', () => {
    const levels = ['steps', 'thirds', 'leaps', 'free'] as const;
    const due = levels.map((level) => take({ level, key: 'Dm', daysAgo: 12 }));
    const ready = levels.map((level) => take({ level, key: 'Gm' }));
    const weakBars = [1, 2].map((bar) => ({ bar, slots: 32, clean: 10 }));
    const weak = levels.map((level) =>
      take({ level, key: 'Am', clean: 20, evidence: { bars: weakBars } }),
    );
    const items = propose([...due, ...ready, ...weak], { charts: [PIER, SWELL] });
    expect(kinds(items).slice(0, 7)).toEqual([
      'due',
      'nearRaise',
      'weakPlace',
      'due',
      'newThing',
      'due',
      'nearRaise',
    ]);
    const both = propose([take({ daysAgo: 12 })]);
    expect(kinds(both)).toEqual(['due']);
  });

  test('passes over practices of charts that are not there', () => {
    expect(propose([take({ chartId: 'gone', daysAgo: 12 })], { charts: [] })).toEqual([]);
  });
});
