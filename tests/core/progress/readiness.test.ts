/** `grading.md`, "Ready for a faster tempo": own rules; counts at the edges from the closed Wilson formula. */

import { describe, expect, test } from 'vitest';
import {
  describeReadiness,
  easedTempoBpm,
  evidenceOf,
  judgeReadiness,
  raisedTempoBpm,
  type TakeEvidence,
} from '../../../src/core/progress/index.ts';
import { bar, C_DORIAN, C_IONIAN, formOf, gradeLine } from '../../helpers/hand-made.ts';

const DAY_MS = 86_400_000;
const NOW_MS = 1_000 * DAY_MS;

function take(parts: Partial<TakeEvidence>): TakeEvidence {
  return {
    playedAtMs: NOW_MS - DAY_MS,
    choruses: 2,
    slots: 64,
    clean: 64,
    changesCounted: 20,
    changesOnTime: 20,
    changesUnproven: 0,
    changesLeftOut: 0,
    bars: [],
    lateChanges: [],
    ...parts,
  };
}

function judge(...takes: TakeEvidence[]) {
  return judgeReadiness(takes, 60, NOW_MS);
}

function obstaclesOf(...takes: TakeEvidence[]) {
  return judge(...takes).obstacles.map(({ kind }) => kind);
}

describe('a take that may have been misread', () => {
  const misread = take({ clean: 20, isUndecided: true });

  test('counts for nothing, and readiness holds and says so', () => {
    expect(judge(misread)).toMatchObject({ verdict: 'hold', nextTempoBpm: 60, slots: 0 });
    expect(judge(misread).obstacles[0]).toEqual({ kind: 'undecided', takes: 1 });
    // The same take decided: under 75 % clean.
    expect(judge({ ...misread, isUndecided: false }).verdict).toBe('ease');
    expect(describeReadiness(judge(misread), 60)).toContain('One take does not count');
  });

  test('hides no take behind it, and stands in no other’s way', () => {
    const before = take({ playedAtMs: NOW_MS - 2 * DAY_MS });
    expect(judge(misread, before)).toMatchObject({ verdict: 'raise', obstacles: [] });
    expect(judge(misread, { ...before, choruses: 1 }).obstacles).toEqual([
      { kind: 'undecided', takes: 1 },
      { kind: 'choruses', missing: 1 },
    ]);
  });

  test('is told of for 30 days', () => {
    expect(obstaclesOf(take({ isUndecided: true, playedAtMs: NOW_MS - 30 * DAY_MS }))[0]).toBe(
      'undecided',
    );
    expect(obstaclesOf(take({ isUndecided: true, playedAtMs: NOW_MS - 30 * DAY_MS - 1 }))[0]).toBe(
      'choruses',
    );
  });
});

describe('raise', () => {
  test.each([
    [63, 64, 'raise'],
    [62, 64, 'hold'],
    [122, 128, 'raise'],
    [121, 128, 'hold'],
    [181, 192, 'raise'],
    [180, 192, 'hold'],
  ])('%i clean of %i slots: %s', (clean, slots, verdict) => {
    expect(judge(take({ clean, slots })).verdict).toBe(verdict);
  });

  test('needs two choruses and 64 slots', () => {
    expect(obstaclesOf(take({ choruses: 1 }))).toEqual(['choruses']);
    expect(obstaclesOf(take({ slots: 63, clean: 63 }))).toEqual(['slots']);
    expect(judge(take({ choruses: 1 })).obstacles).toEqual([{ kind: 'choruses', missing: 1 }]);
  });

  test('needs 90 % of the counted changes on time', () => {
    expect(obstaclesOf(take({ changesOnTime: 18 }))).toEqual([]);
    expect(obstaclesOf(take({ changesOnTime: 17 }))).toEqual(['changes']);
    expect(obstaclesOf(take({ changesCounted: 0, changesOnTime: 0 }))).toEqual([]);
  });

  test('needs every bar at 0.75 clean or more, over all takes together', () => {
    expect(obstaclesOf(take({ bars: [{ bar: 7, slots: 16, clean: 12 }] }))).toEqual([]);
    const weak = take({
      bars: [
        { bar: 8, slots: 16, clean: 11 },
        { bar: 7, slots: 16, clean: 2 },
      ],
    });
    expect(judge(weak).obstacles).toEqual([{ kind: 'bars', bars: [7, 8] }]);
    const made = take({ bars: [{ bar: 7, slots: 8, clean: 4 }], choruses: 1 });
    const good = take({ bars: [{ bar: 7, slots: 8, clean: 8 }], choruses: 1 });
    expect(obstaclesOf(made, good)).toEqual([]);
  });

  test('goes up 4 %, at least 2', () => {
    // Reference values, section 4.
    expect([60, 66, 72, 76, 100].map(raisedTempoBpm)).toEqual([62, 69, 75, 79, 104]);
    expect(judge(take({})).nextTempoBpm).toBe(62);
  });
});

describe('ease', () => {
  test.each([
    [19, 32, 'ease'],
    [20, 32, 'hold'],
    [86, 128, 'ease'],
    [87, 128, 'hold'],
    [132, 192, 'ease'],
    [133, 192, 'hold'],
  ])('%i clean of %i slots: %s', (clean, slots, verdict) => {
    expect(judge(take({ clean, slots })).verdict).toBe(verdict);
  });

  test('needs 32 slots', () => {
    expect(judge(take({ slots: 31, clean: 5 })).verdict).toBe('hold');
    expect(judge(take({ slots: 32, clean: 5 })).verdict).toBe('ease');
  });

  test('goes down 8 % in whole beats', () => {
    expect([50, 60, 100].map(easedTempoBpm)).toEqual([46, 55, 92]);
    expect(judge(take({ slots: 32, clean: 5 })).nextTempoBpm).toBe(55);
  });
});

describe('the takes that count', () => {
  test('are the newest until three choruses are reached', () => {
    const newest = take({ playedAtMs: NOW_MS - 1, choruses: 2 });
    const middle = take({ playedAtMs: NOW_MS - 2, choruses: 1 });
    const old = take({ playedAtMs: NOW_MS - 3, slots: 640, clean: 0 });
    expect(judge(old, middle, newest)).toMatchObject({ verdict: 'raise', choruses: 3, slots: 128 });
  });

  test('go back 30 days and no further', () => {
    const edge = take({ playedAtMs: NOW_MS - 30 * DAY_MS });
    expect(judge(edge).choruses).toBe(2);
    expect(judge(take({ playedAtMs: NOW_MS - 30 * DAY_MS - 1 })).choruses).toBe(0);
  });

  test('with none the tempo holds and everything is still missing', () => {
    expect(judge()).toMatchObject({ verdict: 'hold', nextTempoBpm: 60 });
    expect(obstaclesOf()).toEqual(['choruses', 'slots', 'cleanRate']);
  });
});

test('a report tells whole choruses, bars over all choruses and what was not on time', () => {
  const form = formOf([bar(C_IONIAN), bar(C_DORIAN)]);
  const chorus = 'C4 D4 E4 F4 G4 F4 E4 D4 E4 D4 Eb4 F4 G4 F4 Eb4 D4';
  const report = gradeLine(form, `${chorus} ${chorus} E4 D4`);
  expect(evidenceOf(report, form, 5)).toEqual({
    playedAtMs: 5,
    choruses: 2,
    slots: 34,
    clean: 32,
    changesCounted: 4,
    changesOnTime: 2,
    changesUnproven: 0,
    changesLeftOut: 0,
    bars: [
      { bar: 1, slots: 18, clean: 18, times: 3, faultySquares: 0 },
      { bar: 2, slots: 16, clean: 14, times: 2, faultySquares: 2 },
    ],
    lateChanges: [
      { bar: 2, beat: 1, toChord: 'C1' },
      { bar: 2, beat: 1, toChord: 'C1' },
    ],
    chords: [
      {
        ...{ bar: 1, beat: 1, chord: 'C0', slots: 18, clean: 18, faults: {} },
        arrivals: { onTime: 2, unproven: 0, lateBySlots: [] },
      },
      {
        ...{ bar: 2, beat: 1, chord: 'C1', slots: 16, clean: 14, faults: { outside: 2 } },
        arrivals: { onTime: 0, unproven: 0, lateBySlots: [1, 1] },
      },
    ],
  });
});
