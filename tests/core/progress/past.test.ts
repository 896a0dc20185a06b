/** A past that is gone on from says the same as all takes: at every day it can be told until, and by every clock. */

import { describe, expect, test } from 'vitest';
import { dueOf, noPast, type PlayedTake, pastUntil } from '../../../src/core/progress/index.ts';
import { between, chanceOf } from './chance.ts';
import { DAY_MS, NOW_MS, take } from './takes.ts';

const TODAY = Math.floor(NOW_MS / DAY_MS);
const OFFSETS = [0, 60, -300, 345];

/** Takes of years, newest first: some days many, at two or three tempos, and some with too little to be rated. */
function playedBy(seed: number): readonly PlayedTake[] {
  const chance = chanceOf(seed);
  let daysAgo = 0;
  return Array.from({ length: 60 }, () => {
    daysAgo += chance() < 0.4 ? chance() / 10 : between(chance, 0, 40);
    const slots = chance() < 0.2 ? 20 : 64;
    const clean = Math.round(slots * between(chance, 0.6, 1.02));
    const tempoBpm = 60 + 8 * Math.floor(chance() * 3);
    return take({ daysAgo, slots, clean: Math.min(slots, clean), tempoBpm });
  });
}

test('when a practice is due is the same with a past as without', () => {
  let [known, told] = [0, 0];
  for (let seed = 0; seed < 60; seed++) {
    const takes = playedBy(seed);
    const utcOffsetMinutes = OFFSETS[seed % OFFSETS.length] ?? 0;
    const due = dueOf({ takes }, NOW_MS, utcOffsetMinutes);
    if (due !== null) told++;
    for (let days = -1; days < 1300; days += 1 + (seed % 7) * 19) {
      const past = pastUntil(TODAY - days, takes, noPast(utcOffsetMinutes));
      if (past.days.last !== null) known++;
      // Another list: of the first it is remembered.
      expect(dueOf({ takes: [...takes], past }, NOW_MS, utcOffsetMinutes)).toEqual(due);
    }
  }
  expect(told).toBe(60);
  expect(known).toBeGreaterThan(1000);
});

test('a past gone on from an earlier past is that of all its days', () => {
  for (let seed = 0; seed < 20; seed++) {
    const takes = playedBy(seed);
    const whole = pastUntil(TODAY - 100, takes, noPast(60));
    const earlier = pastUntil(TODAY - 400, takes, noPast(60));
    expect(earlier).not.toEqual(whole);
    expect(pastUntil(TODAY - 100, takes, earlier)).toEqual(whole);
  }
});

describe('a past', () => {
  test('ends before its day, by its own clock', () => {
    const midnightMs = NOW_MS - 12 * 3_600_000;
    const evening = take({ evidence: { playedAtMs: midnightMs - 60_000 } });
    expect(pastUntil(TODAY, [evening], noPast(0)).days.last?.day).toBe(TODAY - 1);
    expect(pastUntil(TODAY, [evening], noPast(60)).days.last).toBeNull();
  });

  test('told by another clock is not gone on from', () => {
    const takes = playedBy(3);
    const wrong = { ...pastUntil(TODAY, takes, noPast(-300)), heldBpm: 300 };
    expect(dueOf({ takes: [...takes], past: wrong }, NOW_MS, 60)).toEqual(
      dueOf({ takes }, NOW_MS, 60),
    );
  });
});
