/** `grading.md`, "Ready for a faster tempo": own rules; counts at the edges from the closed Wilson formula. */

import { describe, expect, test } from 'vitest';
import { beatsPerBar } from '../../../src/core/chart/index.ts';
import {
  describeReadiness,
  easedTempoBpm,
  evidenceOf,
  judgeReadiness,
  raisedTempoBpm,
  type TakeEvidence,
} from '../../../src/core/progress/index.ts';
import { bar, C_DORIAN, C_IONIAN, formOf, gradeLine, palette } from '../../helpers/hand-made.ts';

const DAY_MS = 86_400_000;
const NOW_MS = 1_000 * DAY_MS;

/** One take of four choruses, which does for a raise, unless told otherwise. */
function take(parts: Partial<TakeEvidence>): TakeEvidence {
  return {
    playedAtMs: NOW_MS - DAY_MS,
    choruses: 4,
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
      { kind: 'takes', missing: 1 },
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
    const none = take({ choruses: 0, slots: 1, clean: 1 });
    expect(obstaclesOf(take({ choruses: 1 }), none)).toEqual(['choruses']);
    expect(obstaclesOf(take({ slots: 63, clean: 63 }))).toEqual(['slots']);
    expect(judge(take({ choruses: 1 }), none).obstacles).toEqual([
      { kind: 'choruses', missing: 1 },
    ]);
  });

  test('needs two takes, or one of four choruses', () => {
    const half = take({ choruses: 2, slots: 32, clean: 32 });
    expect(judge(half, half).verdict).toBe('raise');
    expect(judge(take({ choruses: 3 })).obstacles).toEqual([{ kind: 'takes', missing: 1 }]);
    expect(describeReadiness(judge(take({ choruses: 3 })), 60)).toBe(
      'Hold the tempo at 60. One more take to play, or one of 4 choruses.',
    );
    expect(judge(take({ choruses: 4 })).verdict).toBe('raise');
  });

  test('of endless play needs neither', () => {
    expect(judgeReadiness([take({ choruses: 2 })], 60, NOW_MS, 'endless').verdict).toBe('raise');
    expect(judgeReadiness([take({ choruses: 1 })], 60, NOW_MS, 'endless').verdict).toBe('hold');
  });

  test('needs 90 % of the counted changes on time', () => {
    expect(obstaclesOf(take({ changesOnTime: 18 }))).toEqual([]);
    expect(obstaclesOf(take({ changesOnTime: 17 }))).toEqual(['changes']);
    expect(obstaclesOf(take({ changesCounted: 0, changesOnTime: 0 }))).toEqual([]);
  });

  test('counts no change that is left out', () => {
    const unproven = { changesOnTime: 9, changesUnproven: 10 };
    expect(obstaclesOf(take({ ...unproven, changesLeftOut: 10 }))).toEqual([]);
    expect(obstaclesOf(take({ ...unproven, changesLeftOut: 9 }))).toEqual(['changes']);
  });

  test('asks nothing of a bar with fewer than four judged slots', () => {
    expect(obstaclesOf(take({ bars: [{ bar: 7, slots: 3, clean: 0 }] }))).toEqual([]);
    expect(obstaclesOf(take({ bars: [{ bar: 7, slots: 4, clean: 2 }] }))).toEqual(['bars']);
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
    // By hand: 1.04 times as fast, rounded; at 60 and less, 2 more.
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
  test('go on past three choruses until there are 64 slots and two takes, or one of four choruses', () => {
    const slots = (count: number, ago: number) =>
      take({ playedAtMs: NOW_MS - ago, choruses: 3, slots: count, clean: count });
    expect(judge(slots(31, 1), slots(32, 2), slots(8, 3), slots(8, 4)).slots).toBe(71);
    expect(judge(slots(100, 1), slots(32, 2), slots(8, 3)).slots).toBe(132);
    expect(judge({ ...slots(100, 1), choruses: 4 }, slots(32, 2)).slots).toBe(100);
  });

  test('are the newest until three choruses are reached', () => {
    const newest = take({ playedAtMs: NOW_MS - 1, choruses: 2 });
    const middle = take({ playedAtMs: NOW_MS - 2, choruses: 1 });
    const old = take({ playedAtMs: NOW_MS - 3, slots: 640, clean: 0 });
    expect(judge(old, middle, newest)).toMatchObject({ verdict: 'raise', choruses: 3, slots: 128 });
  });

  test('go back 30 days and no further', () => {
    const edge = take({ playedAtMs: NOW_MS - 30 * DAY_MS });
    expect(judge(edge).choruses).toBe(4);
    expect(judge(take({ playedAtMs: NOW_MS - 30 * DAY_MS - 1 })).choruses).toBe(0);
  });

  test('with none the tempo holds and everything is still missing', () => {
    expect(judge()).toMatchObject({ verdict: 'hold', nextTempoBpm: 60 });
    expect(obstaclesOf()).toEqual(['choruses', 'slots', 'takes', 'cleanRate']);
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

/** Changes that a line of common tones leaves unproven. */
describe('unproven changes', () => {
  const evidenceAt = (
    level: 'steps' | 'thirds' | 'leaps',
    bars: Parameters<typeof formOf>[0],
    line: string,
  ) => {
    const form = formOf(bars);
    return evidenceOf(gradeLine(form, line, { level }), form, 0);
  };
  const WAY = 'C4 D4 E4 F4 G4 F4 E4 D4';
  const COMMON = 'C4 D4 C4 D4 C4 D4 C4 D4';

  test('count at steps and thirds, and are left out at leaps', () => {
    const bars = [bar(C_IONIAN), bar(C_DORIAN)];
    const line = `${WAY} ${COMMON}`;
    const counted = { changesCounted: 1, changesOnTime: 0, changesUnproven: 1 };
    for (const level of ['steps', 'thirds'] as const) {
      const evidence = evidenceAt(level, bars, line);
      expect(evidence).toMatchObject({ ...counted, changesLeftOut: 0 });
      expect(evidence.lateChanges).toHaveLength(1);
    }
    expect(evidenceAt('leaps', bars, line)).toMatchObject({
      ...counted,
      changesLeftOut: 1,
      lateChanges: [],
    });
  });

  test('are left out where the new palette adds no note', () => {
    const pentatonic = palette('pentatonic', 'C D E G A');
    expect(evidenceAt('steps', [bar(C_IONIAN), bar(pentatonic)], `${WAY} ${COMMON}`)).toMatchObject(
      {
        ...{ changesCounted: 1, changesUnproven: 1, changesLeftOut: 1 },
      },
    );
  });

  test('are left out where no clean line at the level could prove it', () => {
    // At steps nothing leads from B and C to F and F sharp: five semitones. At thirds E is open from C, and approaches F.
    const low = palette('low', 'B C');
    const high = palette('high', 'F F#');
    const silent = 'B3 C4 B3 C4 B3 C4 B3 C4 - - - - - - - - B3 C4';
    const bars = [bar(low), bar(high)];
    const counted = { changesCounted: 2, changesUnproven: 1 };
    expect(evidenceAt('steps', bars, silent)).toMatchObject({ ...counted, changesLeftOut: 1 });
    expect(evidenceAt('thirds', bars, silent)).toMatchObject({ ...counted, changesLeftOut: 0 });
  });
});

/** A chorus is whole when at least 90 % of its slots were judged, whatever its meters. */
describe('whole choruses', () => {
  const form = formOf([bar(C_IONIAN), bar(C_IONIAN), bar(C_IONIAN), bar(C_IONIAN), bar(C_IONIAN)]);
  const line = (notes: number) =>
    Array.from({ length: notes }, (_, index) => (index % 2 === 0 ? 'C4' : 'D4')).join(' ');
  const choruses = (notes: number) => evidenceOf(gradeLine(form, line(notes)), form, 0).choruses;

  test('count from 36 of 40 slots on', () => {
    expect([35, 36, 40, 75, 76].map(choruses)).toEqual([0, 1, 1, 1, 2]);
  });

  test('count with mixed meters', () => {
    const waltz = { count: 3, unit: 4 } as const;
    const jig = { count: 6, unit: 8 } as const;
    for (const meter of [waltz, jig]) {
      const mixed = {
        ...form,
        bars: form.bars.map((own, index) =>
          index % 2 === 0
            ? own
            : {
                ...own,
                meter,
                chords: own.chords.map((chord) => ({ ...chord, beats: beatsPerBar(meter) })),
              },
        ),
      };
      // Three bars of eight eighths and two of six.
      const told = (notes: number) => evidenceOf(gradeLine(mixed, line(notes)), mixed, 0).choruses;
      expect([32, 33, 36, 68, 69].map(told)).toEqual([0, 1, 1, 1, 2]);
    }
  });
});
