/** How long a line may get before it is refused. Own rule: `size.ts`. */

import { describe, expect, test } from 'vitest';
import { isGradable, MOST_SLOTS, slotsOwed } from '../../../src/core/grading/index.ts';
import type { TakeEvents } from '../../../src/core/take/model.ts';
import { plainTake } from '../../../src/core/take/sources.ts';
import { bar, C_IONIAN, formOf, STEADY_60 } from '../../helpers/hand-made.ts';

const FORM = formOf([bar(C_IONIAN)]);
const EIGHTH_MS = 500;
const settings = { level: 'steps', tempo: STEADY_60 } as const;

/** Key-downs at these slots, and a key-up long after them. */
function keysAt(...slots: readonly number[]): TakeEvents {
  const downs = slots.map((slot) => {
    return { kind: 'noteOn', atMs: slot * EIGHTH_MS, midi: 60, velocity: 80 } as const;
  });
  const lastMs = Math.max(0, ...slots) * EIGHTH_MS + 60_000;
  return plainTake([...downs, { kind: 'noteOff', atMs: lastMs, midi: 60 }], lastMs);
}

describe('the slots a take owes', () => {
  test('reach up to its last key-down, not to its last event', () => {
    expect(slotsOwed(FORM, keysAt(0, 3, 9), settings)).toBe(9);
    expect(slotsOwed(FORM, keysAt(9, 3), settings)).toBe(9);
  });

  test('are none without a key-down, or with all of them before the first downbeat', () => {
    expect(slotsOwed(FORM, keysAt(), settings)).toBe(0);
    expect(slotsOwed(FORM, keysAt(-4), settings)).toBe(0);
  });

  test('are counted after latency is taken off', () => {
    expect(slotsOwed(FORM, keysAt(9), { ...settings, latencyMs: EIGHTH_MS })).toBe(8);
  });

  test('end with the planned choruses', () => {
    expect(slotsOwed(FORM, keysAt(30), { ...settings, choruses: 2 })).toBe(16);
    expect(slotsOwed(FORM, keysAt(5), { ...settings, choruses: 2 })).toBe(5);
  });

  test('follow the grid', () => {
    expect(slotsOwed(FORM, keysAt(8), { ...settings, slotsPerBeat: 4 })).toBe(16);
  });

  test('have no end where no time reaches the last key', () => {
    const points = [{ atMs: 0, atQuarter: 0, msPerQuarter: 0 }];
    const tempo = { kind: 'mapped', points } as const;
    expect(slotsOwed(FORM, keysAt(8), { level: 'steps', tempo })).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('a take is graded', () => {
  test('up to the most slots there may be, and not beyond', () => {
    expect(isGradable(FORM, keysAt(MOST_SLOTS), settings)).toBe(true);
    expect(isGradable(FORM, keysAt(MOST_SLOTS + 1), settings)).toBe(false);
  });

  test('as long as its first event, its last and its end can be written down', () => {
    const furthestMs = 100 * MOST_SLOTS * 1000;
    const note = { kind: 'noteOn', atMs: 0, midi: 60, velocity: 80 } as const;
    const at = (atMs: number) => ({ kind: 'noteOff', atMs, midi: 60 }) as const;
    const graded = (events: TakeEvents['events'], endMs: number) =>
      isGradable(FORM, plainTake(events, endMs), settings);
    expect(graded([note], furthestMs)).toBe(true);
    expect(graded([note], furthestMs + 1000)).toBe(false);
    expect(graded([note, at(furthestMs + 1000)], 0)).toBe(false);
    expect(graded([at(-furthestMs), note], 0)).toBe(true);
    expect(graded([at(-furthestMs - 1000), note], 0)).toBe(false);
    expect(graded([], 0)).toBe(true);
  });
});
