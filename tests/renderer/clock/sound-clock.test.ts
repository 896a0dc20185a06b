/** The clock by exact readings: drift, jumps and their spans, and that time never goes back. */

import { describe, expect, test } from 'vitest';
import { type ClockNews, createSoundClock } from '../../../src/renderer/clock/index.ts';

const EVERY_MS = 40;

/** Reads a clock exactly, from a time of the page to another, and gives the news with their times. */
function readThrough(
  clock: ReturnType<typeof createSoundClock>,
  fromMs: number,
  toMs: number,
  heardAt: (pageMs: number) => number,
  everyMs = EVERY_MS,
): readonly { readonly atMs: number; readonly news: ClockNews }[] {
  const all: { readonly atMs: number; readonly news: ClockNews }[] = [];
  for (let pageMs = fromMs; pageMs < toMs; pageMs += everyMs) {
    const news = clock.read({ pageMs, heardMs: heardAt(pageMs) }, pageMs);
    if (news !== null) all.push({ atMs: pageMs, news });
  }
  return all;
}

test('before its first reading a clock knows nothing, and says so', () => {
  const clock = createSoundClock();
  expect(clock.isKnown()).toBe(false);
  clock.read({ pageMs: 100, heardMs: 30 }, 100);
  expect(clock.isKnown()).toBe(true);
  expect([clock.heardMs(100), clock.heardMs(250), clock.pageMs(180)]).toEqual([30, 180, 250]);
});

test('both ways are inverse', () => {
  const clock = createSoundClock();
  readThrough(clock, 0, 60_000, (pageMs) => 5000 + pageMs * (1 + 150e-6));
  for (const pageMs of [59_990, 60_000, 60_500]) {
    expect(clock.pageMs(clock.heardMs(pageMs))).toBeCloseTo(pageMs, 6);
  }
});

test.each([200e-6, -200e-6])('a drift of %d over an hour is followed', (drift) => {
  const clock = createSoundClock();
  const heardAt = (pageMs: number): number => 777 + pageMs * (1 + drift);
  for (let minute = 0; minute < 60; minute++) {
    const news = readThrough(clock, minute * 60_000, (minute + 1) * 60_000, heardAt, 400);
    expect(news).toEqual([]);
    const nowMs = (minute + 1) * 60_000;
    // Of an eighth note at 300 beats a minute it is the five-hundredth part.
    expect(Math.abs(clock.heardMs(nowMs) - heardAt(nowMs))).toBeLessThan(0.2);
  }
});

describe('sound that stood still for 300 ms', () => {
  const STALL_MS = 10_010;
  const heardAt = (pageMs: number): number =>
    pageMs - Math.min(300, Math.max(0, pageMs - STALL_MS));

  test('is doubted, then a break from before it began to where the old clock had come', () => {
    const clock = createSoundClock();
    const news = readThrough(clock, 0, 20_000, heardAt);
    expect(news.map(({ news: { kind } }) => kind)).toEqual(['doubted', 'jumped']);
    const [doubted, jumped] = news;
    expect(doubted?.atMs).toBeLessThanOrEqual(STALL_MS + 150);
    expect(jumped?.atMs).toBeLessThanOrEqual(STALL_MS + 300 + 250);
    if (jumped?.news.kind !== 'jumped') throw new Error('no jump');
    expect(jumped.news.jumpMs).toBeCloseTo(-300, 6);
    // The last good reading was at 10 000; until the decision the old line was asked.
    expect(jumped.news.broken.fromMs).toBeCloseTo(10_000, 6);
    expect(jumped.news.broken.toMs).toBeCloseTo(jumped.atMs, 6);
    expect(clock.heardMs(20_000)).toBeCloseTo(19_700, 6);
  });

  test('leaves times in order, whenever they are asked for', () => {
    const clock = createSoundClock();
    const told: number[] = [];
    for (let pageMs = 9_000; pageMs < 12_000; pageMs += EVERY_MS) {
      clock.read({ pageMs, heardMs: heardAt(pageMs) }, pageMs);
      // Keys of before the reading, handed over after it, and keys of after it.
      for (const lateMs of [-25, -3, 0, 9]) told.push(clock.heardMs(pageMs + lateMs));
    }
    expect(told).toEqual(told.toSorted((one, other) => one - other));
    expect(told.at(-1)).toBeGreaterThan(11_600);
  });

  test('is one doubt where it is told before any reading shows it', () => {
    const clock = createSoundClock();
    readThrough(clock, 0, 10_000, (pageMs) => pageMs);
    expect(clock.doubt()).toEqual({ kind: 'doubted' });
    expect(clock.doubt()).toBeNull();
    expect(clock.isDoubted()).toBe(true);
    const news = readThrough(clock, 10_300, 12_000, (pageMs) => pageMs - 300);
    expect(news.map(({ news: { kind } }) => kind)).toEqual(['jumped']);
    expect(clock.isDoubted()).toBe(false);
  });
});

test('sound heard earlier from now on breaks from the last good time to the first of the new line', () => {
  const clock = createSoundClock();
  const heardAt = (pageMs: number): number => (pageMs < 5_000 ? pageMs : pageMs + 60);
  const [, jumped] = readThrough(clock, 0, 6_000, heardAt);
  if (jumped?.news.kind !== 'jumped') throw new Error('no jump');
  const { fromMs, toMs } = jumped.news.broken;
  expect(fromMs).toBeCloseTo(4_960, 6);
  expect(toMs).toBeCloseTo(jumped.atMs + 60, 6);
});

test('two far readings are a doubt that is taken back; one is nothing', () => {
  const clock = createSoundClock();
  readThrough(clock, 0, 5_000, (pageMs) => pageMs);
  expect(readThrough(clock, 5_000, 5_040, (pageMs) => pageMs - 20)).toEqual([]);
  expect(readThrough(clock, 5_040, 5_080, (pageMs) => pageMs)).toEqual([]);
  const two = readThrough(clock, 5_080, 5_160, (pageMs) => pageMs - 20);
  expect(two.map(({ news }) => news.kind)).toEqual(['doubted']);
  const back = readThrough(clock, 5_160, 5_200, (pageMs) => pageMs);
  expect(back.map(({ news }) => news.kind)).toEqual(['cleared']);
  expect(clock.heardMs(5_300)).toBeCloseTo(5_300, 6);
});
