/** A session's sums and breaks, and what its player does with it: laws over invented libraries. Own rules. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  isPlayed,
  lockedItems,
  lockItem,
  moveItem,
  practicesOf,
  proposeSession,
  type Session,
  type SessionWish,
  skipItem,
  unlockItem,
} from '../../../src/core/progress/index.ts';
import { playableMinutes } from '../../../src/core/progress/session/breaks.ts';
import { LEVELS } from '../../../src/core/words.ts';
import { NOW, NOW_MS, take } from './takes.ts';

const TAKES = fc.array(
  fc.record({
    chartId: fc.constantFrom('pier', 'swell', 'lamp'),
    level: fc.constantFrom(...LEVELS),
    key: fc.constantFrom('Dm', 'Gm'),
    tempoBpm: fc.constantFrom(60, 66, 72),
    clean: fc.integer({ min: 0, max: 64 }),
    daysAgo: fc.integer({ min: 0, max: 40 }),
  }),
  { maxLength: 25 },
);

function wishOf(part: Partial<SessionWish>, takes: Parameters<typeof practicesOf>[0]): SessionWish {
  return {
    minutes: 60,
    limitLeftMinutes: null,
    practices: practicesOf(takes, NOW_MS),
    charts: ['pier', 'swell', 'lamp'].map((chartId) => ({
      ...{ chartId, chartTitle: chartId, plans: ['plain'], keys: ['Dm', 'Gm'], goalBpm: 72 },
    })),
    drillTakes: [],
    ...NOW,
    locked: [],
    skippedIds: [],
    ...part,
  };
}

const WISH = fc
  .record({
    minutes: fc.integer({ min: 0, max: 150 }),
    limitLeftMinutes: fc.option(fc.integer({ min: 0, max: 90 })),
    takes: TAKES,
  })
  .map(({ takes, ...part }) =>
    wishOf(
      part,
      takes.map(({ clean, ...own }) =>
        take({ ...own, clean, evidence: { bars: [{ bar: 1, slots: 64, clean }] } }),
      ),
    ),
  );

const idsOf = ({ items }: Session) => items.filter(isPlayed).map(({ id }) => id);
/** Everything there was to choose from, wherever it is now. */
const allIds = (session: Session) =>
  [...idsOf(session), ...session.spare.map(({ id }) => id), ...session.skippedIds].toSorted();
const sum = (items: Session['items']) => items.reduce((total, { minutes }) => total + minutes, 0);

/** What must be true of every session. */
function check(session: Session): void {
  const { items, minutes, playMinutes } = session;
  expect(sum(items)).toBeLessThanOrEqual(minutes);
  expect(sum(items.filter(isPlayed))).toBeLessThanOrEqual(playMinutes ?? minutes);
  expect(items.every((item) => Number.isInteger(item.minutes) && item.minutes > 0)).toBe(true);
  expect(new Set(idsOf(session)).size).toBe(idsOf(session).length);
  let stretch = 0;
  for (const item of items) {
    stretch = item.kind === 'break' ? 0 : stretch + item.minutes;
    expect(stretch).toBeLessThanOrEqual(25);
  }
  expect(items[0]?.kind).not.toBe('break');
  expect(items.at(-1)?.kind).not.toBe('break');
  expect(JSON.parse(JSON.stringify(session))).toEqual(session);
}

const edit = fc.tuple(fc.constantFrom('move', 'skip', 'lock', 'unlock'), fc.nat(20), fc.nat(20));

function edited(session: Session, [kind, at, to]: [string, number, number]): Session {
  const ids = idsOf(session);
  const id = ids[at % Math.max(1, ids.length)] ?? 'none';
  if (kind === 'move') return moveItem(session, id, to);
  if (kind === 'skip') return skipItem(session, id);
  return kind === 'lock' ? lockItem(session, id) : unlockItem(session, id);
}

describe('every session', () => {
  test('keeps within its minutes and its limit, with a break after 25 minutes at most', () => {
    fc.assert(fc.property(WISH, (wish) => check(proposeSession(wish))));
  });

  test('does so whatever its player does with it, and loses nothing', () => {
    fc.assert(
      fc.property(WISH, fc.array(edit, { maxLength: 8 }), (wish, edits) => {
        let session = proposeSession(wish);
        for (const one of edits) {
          session = edited(session, one);
          check(session);
        }
        expect(allIds(session)).toEqual(allIds(proposeSession(wish)));
      }),
    );
  });

  test('proposed anew keeps what is locked, first and in order, and leaves out what is skipped', () => {
    fc.assert(
      fc.property(WISH, fc.nat(20), fc.nat(20), (wish, first, second) => {
        const before = proposeSession(wish);
        let session = edited(edited(before, ['lock', first, 0]), ['skip', second, 0]);
        const locked = lockedItems(session);
        const { skippedIds } = session;
        session = proposeSession({ ...wish, locked, skippedIds });
        check(session);
        expect(session.items.filter(isPlayed).slice(0, locked.length)).toEqual(locked);
        expect(idsOf(session).filter((id) => skippedIds.includes(id))).toEqual([]);
      }),
    );
  });
});

const MANY = LEVELS.flatMap((level) =>
  ['Dm', 'Gm', 'Am', 'Em'].map((key) => take({ level, key, daysAgo: 12 })),
);
const minutesOf = (minutes: number, part: Partial<SessionWish> = {}) =>
  proposeSession(wishOf({ minutes, ...part }, MANY)).items.map(
    (item) => `${item.kind === 'break' ? 'break ' : ''}${item.minutes}`,
  );

describe('the minutes', () => {
  test.each([
    [0, 0],
    [25, 25],
    [30, 25],
    [31, 26],
    [55, 50],
    [60, 50],
    [61, 51],
  ])('of %i there are %i to play', (minutes, playing) => {
    expect(playableMinutes(minutes, null)).toBe(playing);
    expect(playableMinutes(minutes, 20)).toBe(Math.min(playing, 20));
  });

  test('are shared out in items of about five, with breaks that leave even stretches', () => {
    expect(minutesOf(1)).toEqual([]);
    expect(minutesOf(2)).toEqual(['2']);
    expect(minutesOf(12)).toEqual(['6', '6']);
    expect(minutesOf(40)).toEqual(['5', '5', '5', '5', 'break 5', '5', '5', '5']);
    expect(minutesOf(40, { limitLeftMinutes: 7 })).toEqual(['7']);
    expect(minutesOf(Number.NaN)).toEqual([]);
  });

  test('make longer items where there is little to play, ten at most', () => {
    const two = MANY.slice(0, 2);
    const charts: SessionWish['charts'] = [
      { chartId: 'pier', chartTitle: 'Long Pier', plans: [], keys: [], goalBpm: 66 },
    ];
    const minutes = (asked: number) =>
      proposeSession(wishOf({ minutes: asked, charts }, two)).items.map((item) => item.minutes);
    expect(minutes(15)).toEqual([8, 7]);
    expect(minutes(60)).toEqual([10, 10]);
  });
});

describe('a player', () => {
  const session = proposeSession(wishOf({ minutes: 15 }, MANY));
  const [first = '', second = '', third = ''] = idsOf(session);

  test('moves an item to a place, beyond the end to the end', () => {
    expect(idsOf(moveItem(session, first, 1))).toEqual([second, first, third]);
    expect(idsOf(moveItem(session, first, 99))).toEqual([second, third, first]);
    expect(idsOf(moveItem(session, third, -1))).toEqual([third, first, second]);
    expect(moveItem(session, 'none', 0)).toBe(session);
  });

  test('skips an item for the best spare one, of its kind if there is any, with its minutes', () => {
    const skipped = skipItem(session, first);
    expect(skipped.items.map(({ minutes }) => minutes)).toEqual([5, 5, 5]);
    const ids = idsOf(skipped);
    expect(ids.slice(1)).toEqual([second, third]);
    const practice = (id: string) => id.slice(id.indexOf('['));
    const spareDue = session.spare
      .filter(({ why }) => why.kind === 'due')
      .filter(({ id }) => practice(id) !== practice(second) && practice(id) !== practice(third));
    expect(ids[0]).toBe(spareDue[0]?.id);
    expect(skipped.spare).toHaveLength(session.spare.length - 1);
    expect(skipped.skippedIds).toEqual([first]);
  });

  test('skips the last thing there is, and is left with less', () => {
    const { items } = skipItem({ ...session, spare: [] }, second);
    expect(items.filter(isPlayed).map(({ id }) => id)).toEqual([first, third]);
  });

  test('has a locked item shortened last', () => {
    const locked = lockItem(session, third);
    const shorter = moveItem({ ...locked, minutes: 12 }, second, 1);
    expect(shorter.items.map(({ minutes }) => minutes)).toEqual([5, 2, 5]);
    const tight = moveItem({ ...locked, minutes: 4 }, second, 1);
    expect(idsOf(tight)).toEqual([third]);
    expect(allIds(tight)).toEqual(allIds(session));
    const open = unlockItem(locked, third);
    expect(moveItem({ ...open, minutes: 12 }, second, 1).items[2]?.minutes).toBe(2);
  });
});
