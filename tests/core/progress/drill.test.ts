/** A drill and where it stands: own rules, with the conditions and steps of a raise (`grading.md`). */

import { describe, expect, test } from 'vitest';
import {
  describeDrill,
  drillOf,
  drillState,
  type RangeTake,
} from '../../../src/core/progress/index.ts';
import { NOW_MS, type TakeWish, take } from './takes.ts';

const DRILL = drillOf({ from: 3, to: 4 }, 100, 12);

function looped(tempoBpm: number, wish: TakeWish = {}, bars = DRILL.bars): RangeTake {
  return { ...take({ tempoBpm, ...wish }), bars };
}

const stateOf = (...takes: readonly RangeTake[]) => drillState(DRILL, takes, NOW_MS);

describe('a drill', () => {
  test('loops the place with the bars around it, as far as there are any', () => {
    expect(DRILL.bars).toEqual({ from: 2, to: 5 });
    expect(drillOf({ from: 1, to: 2 }, 100, 12).bars).toEqual({ from: 1, to: 3 });
    expect(drillOf({ from: 11, to: 12 }, 100, 12).bars).toEqual({ from: 10, to: 12 });
  });

  test('goes from one step of ease below up to the tempo of its context', () => {
    expect(DRILL.tempos).toEqual([92, 96, 100]);
  });
});

describe('where it stands', () => {
  test('begins slower, with everything missing', () => {
    expect(stateOf()).toMatchObject({ kind: 'untilItHolds', tempoBpm: 92, heldBpm: null });
  });

  test('goes up a step when a tempo holds, and back when that of its context does', () => {
    expect(stateOf(looped(92))).toMatchObject({ kind: 'untilItHolds', tempoBpm: 96, heldBpm: 92 });
    expect(stateOf(looped(92), looped(96))).toMatchObject({ tempoBpm: 100, heldBpm: 96 });
    expect(stateOf(looped(92), looped(99))).toMatchObject({ tempoBpm: 100, heldBpm: 99 });
    const done = stateOf(looped(96), looped(100));
    expect(done).toEqual({ kind: 'backInContext', tempoBpm: 100 });
    expect(describeDrill(done, DRILL.bars)).toBe(
      'It holds alone at 100: play it in the whole form again.',
    );
  });

  test('stays while it does not hold, and eases as often as the takes call for it', () => {
    const state = stateOf(looped(92, { clean: 58 }));
    expect(state).toMatchObject({ kind: 'untilItHolds', tempoBpm: 92, heldBpm: null });
    expect(describeDrill(state, DRILL.bars)).toBe(
      'Loop bars 2 to 5 at 92 until it holds. The clean rate is surely 81 % or more; 90 % is needed.',
    );
    expect(stateOf(looped(92, { clean: 30 }))).toMatchObject({ tempoBpm: 85 });
    expect(stateOf(looped(92, { clean: 30 }), looped(85, { clean: 30 }))).toMatchObject({
      tempoBpm: 78,
    });
    expect(stateOf(looped(92, { clean: 30 }), looped(85))).toMatchObject({
      tempoBpm: 88,
      heldBpm: 85,
    });
  });

  test('is told from takes of its own bars alone', () => {
    expect(stateOf(looped(100, {}, { from: 3, to: 4 }))).toMatchObject({ heldBpm: null });
  });

  test('counts short loops until they make slots enough', () => {
    const loops = [1, 2, 3, 4].map((daysAgo) =>
      looped(100, { slots: 16, daysAgo, evidence: { choruses: 1 } }),
    );
    expect(stateOf(...loops).kind).toBe('backInContext');
    expect(stateOf(...loops.slice(1))).toMatchObject({ kind: 'untilItHolds', heldBpm: null });
  });
});
