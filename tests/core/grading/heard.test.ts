/** What is said at once of a key that has gone down: the same rules as the settled verdict, from what is known by then. */

import { describe, expect, test } from 'vitest';
import type { Form } from '../../../src/core/chart/model.ts';
import { createLiveGrader, type GradeSettings } from '../../../src/core/grading/index.ts';
import type { TakeEvent } from '../../../src/core/take/model.ts';
import { bar, C_DORIAN, C_IONIAN, formOf, key, STEADY_60 } from '../../helpers/hand-made.ts';

const ionian = formOf([bar(C_IONIAN)]);
const two = formOf([bar(C_IONIAN), bar(C_DORIAN)]);

/** Slots are 500 ms apart, the tolerance is 75 ms. What was heard of each key: its slot, and its faults as words. */
function heardOf(
  keys: readonly (readonly TakeEvent[])[],
  settings: Partial<GradeSettings> = {},
  form: Form = ionian,
) {
  const heard: { slot: number; name: string; deviationMs: number; faults: string }[] = [];
  const live = createLiveGrader(
    form,
    { level: 'steps', tempo: STEADY_60, ...settings },
    {
      settled() {},
      changed() {},
      heard: ({ slot, name, deviationMs, faults }) =>
        heard.push({ slot, name, deviationMs, faults: faults.join('+') }),
    },
    [],
    0,
  );
  for (const event of keys.flat()) {
    live.advance(event.atMs);
    live.take(event);
  }
  return heard;
}

function faultsOf(...call: Parameters<typeof heardOf>): readonly string[] {
  return heardOf(...call).map(({ faults }) => faults);
}

describe('a note heard', () => {
  test('is told with its slot, its name in the palette, and how far off it lies', () => {
    expect(heardOf([key(0, 'C4'), key(520, 'D4'), key(960, 'E4')])).toEqual([
      { slot: 0, name: 'C4', deviationMs: 0, faults: '' },
      { slot: 1, name: 'D4', deviationMs: 20, faults: '' },
      { slot: 2, name: 'E4', deviationMs: -40, faults: '' },
    ]);
  });

  test('is early or late beyond the tolerance, on it neither', () => {
    expect(faultsOf([key(575, 'C4'), key(925, 'D4')])).toEqual(['', '']);
    expect(faultsOf([key(575.1, 'C4'), key(924.9, 'D4')])).toEqual(['late', 'early']);
  });

  test('is neither at free', () => {
    expect(faultsOf([key(600, 'C4'), key(900, 'D4')], { level: 'free' })).toEqual(['', '']);
  });

  test('is outside when its palette has not got it, in any octave', () => {
    expect(faultsOf([key(0, 'B3'), key(500, 'Bb3'), key(1000, 'B3')])).toEqual(['', 'outside', '']);
  });

  test('is judged in the palette of its own slot', () => {
    const keys = [key(3500, 'E4'), key(4000, 'Eb4'), key(4500, 'E4')];
    expect(faultsOf(keys, {}, two)).toEqual(['', '', 'outside']);
    expect(heardOf(keys, {}, two)[1]?.name).toBe('Eb4');
  });

  test('is never outside under N.C., where intervals count in semitones', () => {
    const none = formOf([bar(null)]);
    expect(faultsOf([key(0, 'C4'), key(500, 'Db4'), key(1000, 'E4')], {}, none)).toEqual([
      ...['', '', 'interval'],
    ]);
  });

  test('is an interval when the step from the slot before is not open', () => {
    expect(faultsOf([key(0, 'C4'), key(500, 'E4'), key(1000, 'F4')])).toEqual(['', 'interval', '']);
    expect(faultsOf([key(0, 'C4'), key(500, 'E4')], { level: 'thirds' })).toEqual(['', '']);
    expect(faultsOf([key(0, 'C4'), key(500, 'C4')])).toEqual(['', 'interval']);
    expect(faultsOf([key(0, 'C4'), key(500, 'C4')], { repeats: 'allow' })).toEqual(['', '']);
  });

  test('has no interval after a gap', () => {
    expect(faultsOf([key(0, 'C4'), key(1000, 'G4')])).toEqual(['', '']);
  });

  test('in a slot that has one is measured from the slot before', () => {
    const keys = [key(0, 'C4'), key(450, 'D4'), key(550, 'B3')];
    expect(heardOf(keys).map(({ slot, faults }) => [slot, faults])).toEqual([
      ...[
        [0, ''],
        [1, ''],
        [1, ''],
      ],
    ]);
  });

  test('is placed ahead when the clock was not told for a while, and not past the planned end', () => {
    const heard: number[] = [];
    const live = createLiveGrader(
      ionian,
      { level: 'steps', tempo: STEADY_60, choruses: 1 },
      {
        settled() {},
        changed() {},
        heard: ({ slot, isClosing }) => heard.push(isClosing ? -slot : slot),
      },
      [],
      0,
    );
    // Eight slots; cells end halfway between two. The cell after the last is that of the closing note.
    for (const atMs of [-250.1, -250, 249.9, 250, 3200, 3749.9, 3750, 4249.9, 4250, 5000]) {
      live.take({ kind: 'noteOn', atMs, midi: 60, velocity: 80 });
    }
    expect(heard).toEqual([0, 0, 1, 6, 7, -8, -8]);
  });
});

describe('at free', () => {
  const free = { level: 'free', choruses: 1 } as const;

  test('a note has the number and the chord of the nearest twelfth of a beat', () => {
    const keys = [key(0, 'C4'), key(3950, 'Eb4'), key(4100, 'Eb4')];
    expect(heardOf(keys, free, two)).toMatchObject([
      { slot: 0, name: 'C4', deviationMs: 0, faults: '' },
      { slot: 1, name: 'Eb4', faults: 'outside' },
      { slot: 2, name: 'Eb4', faults: '' },
    ]);
    expect(heardOf([key(3960, 'Eb4')], free, two)).toMatchObject([{ name: 'Eb4', faults: '' }]);
    expect(heardOf([key(3960, 'Eb4')], free, two)[0]?.deviationMs).toBeCloseTo(-40);
  });

  test('a note before the first downbeat or past the planned end is none of the line', () => {
    expect(heardOf([key(-50, 'C4'), key(-40, 'D4')], free)).toHaveLength(1);
    // The closing note's cell reaches half an eighth to either side of the end.
    const late = [key(3700, 'C4'), key(3800, 'Db4'), key(4200, 'D4'), key(4260, 'D4')];
    expect(heardOf(late, free).map(({ slot, faults }) => [slot, faults])).toEqual([
      [0, ''],
      [1, ''],
      [1, ''],
    ]);
  });
});

describe('a key of the left hand', () => {
  const below = { splitMidi: 60 };

  test('is not of the line, the lowest key of the line is', () => {
    expect(heardOf([key(0, 'B3'), key(500, 'C4')], below).map(({ name }) => name)).toEqual(['C4']);
  });

  test('without a split is', () => {
    expect(heardOf([key(0, 'B3')]).map(({ name }) => name)).toEqual(['B3']);
  });
});

test('latency is taken off what is heard', () => {
  expect(heardOf([key(520, 'C4')], { latencyMs: 30 })).toMatchObject([
    { slot: 1, deviationMs: -10 },
  ]);
});

test('the second key of a slot is judged by the note of the slot before, as the first was', () => {
  // Two keys go down for slot 1; both lie a step from slot 0, a third from each other.
  expect(faultsOf([key(0, 'D4'), key(480, 'E4'), key(520, 'C4'), key(1000, 'D4')])).toEqual([
    ...['', '', '', ''],
  ]);
  expect(faultsOf([key(0, 'D4'), key(480, 'E4'), key(520, 'A4')])).toEqual(['', '', 'interval']);
});

test('what is put down with velocity 0 is a key let go, and is not heard', () => {
  const up: TakeEvent = { kind: 'noteOn', atMs: 500, midi: 62, velocity: 0 };
  expect(heardOf([key(0, 'C4'), [up], key(1000, 'D4')]).map(({ slot }) => slot)).toEqual([0, 2]);
});
