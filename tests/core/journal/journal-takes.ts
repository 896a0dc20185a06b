/** Short facts of takes, written by hand and random, for the tests of this folder. */

import fc from 'fast-check';
import type { DatedRemark, JournalTake } from '../../../src/core/journal/index.ts';
import { LEVELS } from '../../../src/core/words.ts';

export const MINUTE_MS = 60_000;
/** 18:00 UTC on Saturday 14 March 2026. */
export const EVENING_MS = Date.UTC(2026, 2, 14, 18);

/** The clock on a wall that is so many minutes ahead of UTC. */
export function wallClock(atMs: number, ahead = 0): Pick<JournalTake, 'day' | 'minute'> {
  const minutes = Math.floor(atMs / MINUTE_MS) + ahead;
  return { day: Math.floor(minutes / DAY_MINUTES), minute: minutes % DAY_MINUTES };
}

const DAY_MINUTES = 24 * 60;

/** A remark of a moment, made where it is UTC. */
export function remarkAt(atMs: number, text: string): DatedRemark {
  return { atMs, day: wallClock(atMs).day, text };
}

/** A take of two minutes over all of Long Pier, 64 slots all clean, at 66, on that evening unless told otherwise. */
export function take(wish: Partial<JournalTake> & { readonly takeId: string }): JournalTake {
  const { slots = 64, startedAtMs = EVENING_MS } = wish;
  return {
    ...{ chartId: 'pier', chartTitle: 'Long Pier', plan: 'plain', key: 'Dm', level: 'steps' },
    ...{ tempoBpm: 66, bars: null, startedAtMs, ...wallClock(startedAtMs) },
    ...{ endMs: 2 * MINUTE_MS, slots, clean: slots, note: '' },
    ...wish,
  };
}

/** Texts that a table program or a reader of tables may trip over. */
const anyText = fc.oneof(
  fc.string({ unit: 'grapheme', maxLength: 12 }),
  fc.constantFrom('=1+1', '+2', '-3', '@a', 'a,b', '"', 'two\r\nlines', '', ' '),
);

/** Takes over about three days, many of them near one another, in any order. */
export const anyTakes: fc.Arbitrary<readonly JournalTake[]> = fc
  .array(
    fc.record({
      chartId: fc.constantFrom('pier', 'quay', 'boat'),
      chartTitle: anyText,
      plan: anyText,
      key: fc.constantFrom('C', 'Bb', 'F#m'),
      level: fc.constantFrom(...LEVELS),
      tempoBpm: fc.option(fc.integer({ min: 40, max: 120 })),
      bars: fc.option(fc.constant({ from: 3, to: 5 })),
      startedAtMs: fc
        .integer({ min: 0, max: 430 })
        .map((tens) => EVENING_MS + tens * 10 * MINUTE_MS),
      endMs: fc.integer({ min: 0, max: 100 * MINUTE_MS }),
      slots: fc.integer({ min: 0, max: 300 }),
      note: anyText,
    }),
    { maxLength: 40 },
  )
  .map((takes) =>
    takes.map((own, index) => ({
      ...own,
      ...wallClock(own.startedAtMs),
      ...{ takeId: `take ${index}`, clean: own.slots >> 1 },
    })),
  );
