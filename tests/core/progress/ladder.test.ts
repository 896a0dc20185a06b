/** The ladder of a chart. Source of its order: `grading.md`, `rung`; what holds is that of a raise. */

import { describe, expect, test } from 'vitest';
import {
  describeRung,
  type LadderChart,
  ladderOf,
  type PlayedTake,
  practicesOf,
} from '../../../src/core/progress/index.ts';
import { NOW_MS, practice, take } from './takes.ts';

const CHART: LadderChart = {
  chartId: 'pier',
  plans: ['plain', 'side door', 'low light'],
  keys: ['Dm', 'Gm'],
  goalBpm: 66,
};

const ladder = (takes: readonly PlayedTake[], chart: Partial<LadderChart> = {}) =>
  ladderOf({ ...CHART, ...chart }, practicesOf(takes, NOW_MS));

describe('the rungs', () => {
  test('go through levels, then other plans, then free rhythm, then the next key', () => {
    expect(ladder([]).rungs.map(({ key, level, plan }) => `${key} ${level} ${plan}`)).toEqual(
      ['Dm', 'Gm'].flatMap((key) => [
        `${key} steps plain`,
        `${key} thirds plain`,
        `${key} leaps plain`,
        `${key} leaps side door`,
        `${key} leaps low light`,
        `${key} free side door`,
        `${key} free low light`,
      ]),
    );
  });

  test('end free over the chart as written where it has no other plan', () => {
    const { rungs } = ladder([], { plans: ['plain'], keys: ['Dm'] });
    expect(rungs.map(({ level, plan }) => `${level} ${plan}`)).toEqual([
      'steps plain',
      'thirds plain',
      'leaps plain',
      'free plain',
    ]);
  });
});

describe('a rung is', () => {
  const first = (...takes: readonly PlayedTake[]) => ladder(takes).rungs[0];

  test('done when its goal has held, also long ago', () => {
    expect(first(take())).toMatchObject({ state: 'done', heldBpm: 66, holdsBpm: 66 });
    const old = first(take({ daysAgo: 90 }));
    expect(old).toMatchObject({ state: 'done', heldBpm: 66, holdsBpm: null });
    expect(old && describeRung(old)).toBe(
      'Has held at 66, not shown in the last month; the goal is 66.',
    );
  });

  test('going on below its goal, or while nothing holds', () => {
    expect(first(take({ tempoBpm: 65 }))).toMatchObject({ state: 'goingOn', heldBpm: 65 });
    const failing = first(take({ tempoBpm: 70, clean: 50 }));
    expect(failing).toMatchObject({ state: 'goingOn', heldBpm: null, lastPlayedMs: NOW_MS });
    expect(failing && describeRung(failing)).toBe('No tempo holds yet; the goal is 66.');
  });

  test('not begun without takes of its own chart, plan, key and level', () => {
    const others = [{ chartId: 'swell' }, { plan: 'side door' }, { key: 'Em' }, { key: 'D' }];
    expect(first(...others.map(take))).toMatchObject({ state: 'notBegun', lastPlayedMs: null });
  });

  test('never done without a goal', () => {
    expect(ladder([take()], { goalBpm: null }).rungs[0]?.state).toBe('goingOn');
  });

  test('the same whatever its key is called', () => {
    const { rungs } = ladder([take({ key: 'F#' })], { keys: ['Gb', 'B'] });
    expect(rungs[0]?.state).toBe('done');
    expect(rungs.filter(({ state }) => state !== 'notBegun')).toHaveLength(1);
  });
});

test('next is the first that is not done, whatever was tried above it', () => {
  expect(ladder([]).next).toMatchObject({ key: 'Dm', level: 'steps' });
  const tried = [take(), take({ level: 'leaps' })];
  expect(ladder(tried).next).toMatchObject({ level: 'thirds', state: 'notBegun' });
  expect(ladder([take({ clean: 50 })]).next).toMatchObject({ level: 'steps', state: 'goingOn' });
  const all = ladder([take()], { plans: [], keys: ['Dm'] }).rungs.map(({ level }) =>
    take({ level }),
  );
  expect(ladder(all, { plans: [], keys: ['Dm'] }).next).toBeNull();
});

test('what held before worse takes has held', () => {
  const held = take({ daysAgo: 20, tempoBpm: 72, evidence: { choruses: 2 } });
  const again = take({ daysAgo: 19, tempoBpm: 72, evidence: { choruses: 2 } });
  const before = take({ daysAgo: 21, tempoBpm: 72, clean: 30, evidence: { choruses: 3 } });
  const after = take({ daysAgo: 1, tempoBpm: 72, clean: 30, evidence: { choruses: 3 } });
  const slower = take({ daysAgo: 30, tempoBpm: 60 });
  const spoilt = practice(slower, before, held, after);
  expect(spoilt.holdsBpm).toBe(60);
  // The take before it belongs to the same three choruses and spoils them.
  expect(spoilt.heldBpm).toBe(60);
  expect(practice(slower, before, held, again, after).heldBpm).toBe(72);
});
