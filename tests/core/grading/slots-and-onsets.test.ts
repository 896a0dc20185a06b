/** `grading.md`, "Slots and onsets", "From events to a line" and "Faults of a slot": own rules, worked by hand. */

import { describe, expect, test } from 'vitest';
import { gradeTake } from '../../../src/core/grading/index.ts';
import { plainTake } from '../../../src/core/take/sources.ts';
import {
  bar,
  C_IONIAN,
  faultsOf,
  formOf,
  gradeLine,
  inOrder,
  key,
  STEADY_60,
} from '../../helpers/hand-made.ts';

const form = formOf([bar(C_IONIAN), bar(C_IONIAN)]);
/** At 60 bpm slots are 500 ms apart and the tolerance is 75 ms. */
const settings = { level: 'steps', tempo: STEADY_60 } as const;

function gradeKeys(...keys: ReturnType<typeof key>[]) {
  return gradeTake(form, inOrder(keys.flat()), settings);
}

describe('cells', () => {
  test('an onset just before the midpoint belongs to the slot before, on it to the slot after', () => {
    const before = gradeKeys(key(0, 'C4'), key(500 + 249.9, 'D4'));
    expect(before.slots[1]?.note?.deviationMs).toBeCloseTo(249.9);
    const on = gradeKeys(key(0, 'C4'), key(500 + 250, 'D4'));
    expect(faultsOf(on)).toEqual(['', 'gap', 'early']);
    expect(on.slots[2]?.note?.deviationMs).toBeCloseTo(-250);
  });

  test('the onset nearest to the slot fills it, the other is a spare', () => {
    const report = gradeKeys(key(0, 'C4'), key(440, 'D4'), key(540, 'E4'), key(1000, 'F4'));
    expect(report.slots[1]?.note?.name).toBe('E4');
    expect(report.extras).toEqual([{ midi: 62, onsetMs: 440, slot: 1, reason: 'spare' }]);
    expect(report.slots[1]?.faults).toContain('extra');
  });

  test('of two onsets equally near the earlier fills the slot', () => {
    const report = gradeKeys(key(0, 'C4'), key(450, 'D4'), key(550, 'E4'), key(1000, 'F4'));
    expect(report.slots[1]?.note?.name).toBe('D4');
  });

  test('an onset more than half a slot before the first downbeat is not part of the line', () => {
    const report = gradeKeys(key(-250.1, 'B3'), key(0, 'C4'));
    expect(faultsOf(report)).toEqual(['']);
    expect(report.extras).toEqual([]);
    const inCell = gradeKeys(key(-250, 'B3'), key(500, 'C4'));
    expect(faultsOf(inCell)).toEqual(['early', '']);
  });
});

describe('repair', () => {
  test('a hesitation caught up at once is one late note, not a gap and an extra', () => {
    // Slot 1 is empty; 760 ms lies in the cell of slot 2, which 1000 ms fills.
    const report = gradeKeys(key(0, 'C4'), key(760, 'D4'), key(1000, 'E4'), key(1500, 'F4'));
    expect(faultsOf(report)).toEqual(['', 'late', '', '']);
    expect(report.slots[1]?.note?.deviationMs).toBeCloseTo(260);
  });

  test.each([
    [374.9, true],
    [375, false],
  ])('a spare %s ms behind the empty slot fills it: %s (limit 0.75 × 500 ms)', (offMs, fills) => {
    const report = gradeKeys(key(0, 'C4'), key(500 + offMs, 'D4'), key(1000, 'E4'));
    expect(faultsOf(report)).toEqual(fills ? ['', 'late', ''] : ['', 'gap', 'extra']);
  });

  test.each([
    [374.9, true],
    [375, false],
  ])('a spare %s ms ahead of the empty slot fills it: %s', (offMs, fills) => {
    const report = gradeKeys(
      key(0, 'C4'),
      key(500, 'D4'),
      key(1000 - offMs, 'E4'),
      key(1500, 'F4'),
    );
    expect(faultsOf(report)).toEqual(fills ? ['', '', 'early', ''] : ['', 'extra', 'gap', '']);
  });

  test('a spare on the far side of its slot does not fill the neighbour on the other side', () => {
    // Slot 1 is empty; the spare of slot 2 lies after it, on the side of slot 3, which is filled.
    const report = gradeKeys(key(0, 'C4'), key(1000, 'D4'), key(1200, 'F4'), key(1500, 'E4'));
    expect(faultsOf(report)).toEqual(['', 'gap', 'extra', '']);
  });

  test('a last spare may fill the slot after the last cell', () => {
    const report = gradeKeys(key(0, 'C4'), key(500, 'D4'), key(720, 'E4'));
    expect(faultsOf(report)).toEqual(['', '', 'early']);
  });
});

describe('tolerance', () => {
  test.each([
    [60, 75, ''],
    [60, 75.001, 'late'],
    [60, -75, ''],
    [60, -75.001, 'early'],
    // By hand: 0.15 of an eighth at 72 and 76 bpm.
    [72, 62.5, ''],
    [72, 62.501, 'late'],
    [76, 59.21, ''],
    [76, 59.22, 'late'],
    // Below 40 ms the floor holds: 0.15 of an eighth at 120 bpm is 37.5 ms.
    [120, 40, ''],
    [120, 40.001, 'late'],
  ])('at %s bpm an onset %s ms off is %s', (tempoBpm, offMs, fault) => {
    const tempo = { kind: 'steady', tempoBpm } as const;
    const report = gradeLine(form, [{ name: 'C4' }, { name: 'D4', offMs }, { name: 'E4' }], {
      tempo,
    });
    expect(faultsOf(report)).toEqual(['', fault, '']);
  });

  test('a fixed tolerance replaces the rule', () => {
    const line = [{ name: 'C4' }, { name: 'D4', offMs: 20 }];
    expect(faultsOf(gradeLine(form, line, { toleranceMs: 20 }))).toEqual(['', '']);
    expect(faultsOf(gradeLine(form, line, { toleranceMs: 19 }))).toEqual(['', 'late']);
  });

  test('latency is taken off every onset before anything else', () => {
    const late = [{ name: 'C4' }, { name: 'D4' }];
    const report = gradeLine(form, late, { latencyMs: 80 });
    expect(faultsOf(report)).toEqual(['', '']);
    expect(report.slots[1]?.note?.onsetMs).toBeCloseTo(500);
  });

  test('the off-beat of a swung beat lies at r/(1+r)', () => {
    // 2 : 1 at 60 bpm: the off-beat lies at 666.667 ms, two thirds of the beat.
    const report = gradeTake(form, inOrder([key(0, 'C4'), key(666.667, 'D4')].flat()), {
      ...settings,
      swing: 2,
    });
    expect(report.slots[1]?.note?.deviationMs).toBeCloseTo(0, 3);
  });
});

describe('strikes', () => {
  test('keys 30 ms apart are one strike, 30.1 ms apart are two', () => {
    const one = gradeKeys(key(0, 'C4', 90), key(30, 'E4', 60));
    expect(one.extras).toEqual([{ midi: 64, onsetMs: 30, slot: 0, reason: 'double' }]);
    const two = gradeKeys(key(0, 'C4', 90), key(30.1, 'E4', 60));
    expect(two.extras).toEqual([{ midi: 64, onsetMs: 30.1, slot: 0, reason: 'spare' }]);
  });

  test('the window counts from the first key of the strike', () => {
    const report = gradeKeys(key(0, 'C4', 90), key(20, 'D4', 60), key(40, 'E4', 60));
    expect(report.extras.map(({ reason }) => reason)).toEqual(['double', 'spare']);
  });

  test('the loudest key is the line’s note, in a tie the highest', () => {
    expect(gradeKeys(key(0, 'C4', 60), key(10, 'E4', 90)).slots[0]?.note?.name).toBe('E4');
    expect(gradeKeys(key(0, 'E4', 90), key(10, 'C4', 60)).slots[0]?.note?.name).toBe('E4');
    expect(gradeKeys(key(0, 'E4', 80), key(10, 'C4', 80)).slots[0]?.note?.name).toBe('E4');
    expect(gradeKeys(key(0, 'C4', 80), key(10, 'E4', 80)).slots[0]?.note?.name).toBe('E4');
  });
});

describe('keys', () => {
  test('notes below the split are not graded, the split itself is', () => {
    const report = gradeTake(form, inOrder([key(0, 'B3'), key(0, 'C4'), key(500, 'D4')].flat()), {
      ...settings,
      splitMidi: 60,
    });
    expect(report.slots.map((slot) => slot.note?.name)).toEqual(['C4', 'D4']);
    expect(report.extras).toEqual([]);
  });

  test('a note-on with velocity 0 ends the note and is no onset', () => {
    const report = gradeTake(
      form,
      {
        events: [
          { kind: 'noteOn', atMs: 0, midi: 60, velocity: 80 },
          { kind: 'noteOn', atMs: 400, midi: 60, velocity: 0 },
        ],
        endMs: 2000,
        sources: [],
        breaks: [],
      },
      settings,
    );
    expect(report.slots).toHaveLength(1);
    expect(report.slots[0]?.note?.durationMs).toBe(400);
  });

  test('a second note-on of a sounding key ends the first; a disconnect ends all', () => {
    const report = gradeTake(
      form,
      {
        events: [
          { kind: 'noteOn', atMs: 0, midi: 60, velocity: 80 },
          { kind: 'noteOn', atMs: 500, midi: 60, velocity: 80 },
          { kind: 'allOff', atMs: 800, cause: 'disconnect' },
        ],
        endMs: 5000,
        sources: [],
        breaks: [],
      },
      settings,
    );
    expect(report.slots.map((slot) => slot.note?.durationMs)).toEqual([500, 300]);
  });

  test('a key held to the end lasts to the end of the take', () => {
    const report = gradeTake(
      form,
      plainTake([{ kind: 'noteOn', atMs: 0, midi: 60, velocity: 80 }], 700),
      settings,
    );
    expect(report.slots[0]?.note?.durationMs).toBe(700);
  });
});

describe('the end of a take', () => {
  test('slots after the last filled one are unplayed, neither clean nor faults', () => {
    const report = gradeLine(form, 'C4 D4 - E4', { choruses: 2 });
    expect(report.slots).toHaveLength(4);
    expect(report.summary).toMatchObject({ slots: 4, clean: 3, gap: 1, unplayed: 28 });
  });

  test('without a planned end the chorus under way is what was planned', () => {
    expect(gradeLine(form, 'C4 D4').summary.unplayed).toBe(14);
  });

  test('onsets after the planned end are not part of the line', () => {
    const scale = 'C4 D4 E4 F4 G4 F4 E4 D4 C4 D4 E4 F4 G4 F4 E4 D4 C4 D4';
    const report = gradeLine(form, scale, { choruses: 1 });
    expect(report.slots).toHaveLength(16);
    expect(report.extras).toEqual([]);
  });

  test('a take without a note has a report without slots', () => {
    const report = gradeTake(form, plainTake([], 1000), settings);
    expect(report.slots).toEqual([]);
    expect(report.summary).toMatchObject({ slots: 0, cleanRate: null, unplayed: 0 });
    expect(report.summary.timing.meanMs).toBeNull();
  });
});
