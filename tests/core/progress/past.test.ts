/**
 * A past and the takes since, with those of a month before, say the same as all takes: at every day it can be told until, and by
 * every clock.
 */

import { describe, expect, test } from 'vitest';
import {
  dayStartMs,
  dueOf,
  onceHeldBpm,
  type Played,
  type PlayedTake,
  pastUntil,
  practiceOf,
  WINDOW_DAYS,
} from '../../../src/core/progress/index.ts';
import { runs } from '../../helpers/runs.ts';
import { between, chanceOf } from './chance.ts';
import { DAY_MS, NOW_MS, played, take } from './takes.ts';

const TODAY = Math.floor(NOW_MS / DAY_MS);
const OFFSETS = [0, 60, -300, 345];

/** Takes of years: some days many, at two or three tempos, and some with too little to be rated. */
function playedBy(seed: number): Played {
  const chance = chanceOf(seed);
  let daysAgo = 0;
  const takes = Array.from({ length: 60 }, () => {
    daysAgo += chance() < 0.4 ? chance() / 10 : between(chance, 0, 40);
    const slots = chance() < 0.2 ? 20 : 64;
    const clean = Math.round(slots * between(chance, 0.6, 1.02));
    const tempoBpm = 60 + 8 * Math.floor(chance() * 3);
    return take({ daysAgo, slots, clean: Math.min(slots, clean), tempoBpm });
  });
  return played(...takes);
}

/** The same, what is before a day told by its past; of the takes only those that must be there. */
function shortened(untilDay: number, all: Played, utcOffsetMinutes: number): Played {
  const past = pastUntil(untilDay, all, utcOffsetMinutes);
  const sinceMs = dayStartMs(untilDay, utcOffsetMinutes) - WINDOW_DAYS * DAY_MS;
  return { past, takes: all.takes.filter(({ evidence }) => evidence.playedAtMs >= sinceMs) };
}

function everythingOf(own: Played, utcOffsetMinutes: number) {
  const told = practiceOf(NAME, own, NOW_MS);
  const { played: _told, ...practice } = told ?? { played: null };
  const due = told && dueOf({ ...told, hasGoalHeld: true }, NOW_MS, utcOffsetMinutes);
  return { practice, due, onceHeldBpm: onceHeldBpm(own) };
}

const NAME = { chartId: 'pier', plan: 'plain', key: 'Dm', level: 'steps' } as const;

test('what is told of a practice is the same with a past as without', () => {
  const seeds = runs(60, 12);
  let [fewer, due, held] = [0, 0, 0];
  for (let seed = 0; seed < seeds; seed++) {
    const all = playedBy(seed);
    const utcOffsetMinutes = OFFSETS[seed % OFFSETS.length] ?? 0;
    const told = everythingOf(all, utcOffsetMinutes);
    if (told.due !== null) due++;
    if (told.onceHeldBpm !== null) held++;
    for (let days = 0; days < 1300; days += 1 + (seed % 7) * 19) {
      const short = shortened(TODAY - days, all, utcOffsetMinutes);
      if (short.takes.length < all.takes.length) fewer++;
      expect(everythingOf(short, utcOffsetMinutes)).toEqual(told);
    }
  }
  expect(due).toBe(seeds);
  expect(held).toBeGreaterThan((seeds * 5) / 6);
  expect(fewer).toBeGreaterThan(17 * seeds);
});

test('a past gone on from an earlier past is that of all its days', () => {
  for (let seed = 0; seed < 20; seed++) {
    const all = playedBy(seed);
    const whole = pastUntil(TODAY - 100, all, 60);
    const earlier = shortened(TODAY - 400, all, 60);
    expect(earlier.past).not.toEqual(whole);
    expect(pastUntil(TODAY - 100, earlier, 60)).toEqual(whole);
  }
});

describe('a past', () => {
  test('ends before its day, by its own clock', () => {
    const midnightMs = NOW_MS - 12 * 3_600_000;
    const evening = played(take({ evidence: { playedAtMs: midnightMs - 60_000 } }));
    expect(pastUntil(TODAY, evening, 0)).toMatchObject({
      ...{ takeCount: 1, last: { playedAtMs: midnightMs - 60_000 } },
      days: { last: { day: TODAY - 1 } },
    });
    expect(pastUntil(TODAY, evening, 60)).toMatchObject({
      ...{ takeCount: 0, last: null, onceHeldBpm: null },
      days: { last: null },
    });
  });

  test('told by another clock is refused: its days are others', () => {
    const short = shortened(TODAY, playedBy(3), -300);
    expect(() => everythingOf(short, 60)).toThrow(RangeError);
    expect(() => pastUntil(TODAY, short, 60)).toThrow(RangeError);
  });

  test('of what was never played is nothing', () => {
    const none: readonly PlayedTake[] = [];
    expect(practiceOf(NAME, { past: null, takes: none }, NOW_MS)).toBeNull();
  });
});
