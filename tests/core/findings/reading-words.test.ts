/** Readings in words. Expected: each names what was heard in a musician's terms, and the option that grades by it. */

import { describe, expect, it } from 'vitest';
import { describeReading, readingRemedy } from '../../../src/core/findings/index.ts';
import { gradeTake, type ReadingValue } from '../../../src/core/grading/index.ts';
import { formFromText } from '../../helpers/form-from-text.ts';
import { lineEvents, STEADY_60 } from '../../helpers/hand-made.ts';

const FORM = formFromText('| Cmaj7 | Dm7 | G7 | Cmaj7 | Am7 | Dm7 |');
const WALTZ = formFromText('| Cmaj7 | Dm7 |', '3/4');
const SETTINGS = { level: 'steps', tempo: STEADY_60 } as const;

function words(value: ReadingValue, form = FORM, swing = 1): string {
  const line = 'C4 D4 E4 F4 G4 F4 E4 D4 '.repeat(6).trim();
  const report = gradeTake(form, lineEvents(form, line), { ...SETTINGS, swing });
  const start = { startMs: 2000, slotMs: (slot: number) => slot * 500 };
  const reading = { ...value, clears: 40, of: 44 };
  return `${describeReading(reading, report, form)} ${readingRemedy(reading, report, form, start)}`;
}

const GOES = 'Graded by that, 40 of 44 faults go.';

describe('a reading in words', () => {
  it.each([
    [{ swing: 2, latencyMs: 0 }, 1, 'You swing 2.0 : 1 where straight is set.', '--swing 2'],
    [{ swing: 1.96, latencyMs: 0 }, 1.5, 'You swing 2.0 : 1 where 1.5 : 1 is set.', '--swing 1.96'],
    [{ swing: 1, latencyMs: 0 }, 2, 'You play straight where 2.0 : 1 is set.', '--swing 1'],
    [
      { swing: 1, latencyMs: 80 },
      1,
      'You play a steady 80 ms late. Calibrate the keyboard and grade again.',
      '--latency 80',
    ],
    [
      { swing: 2, latencyMs: -60 },
      1,
      'You swing 2.0 : 1 where straight is set, and play a steady 60 ms early. Calibrate the keyboard and grade again.',
      '--swing 2 --latency -60',
    ],
  ])('timing %j where a swing of %d is set', (value, swing, heard, options) => {
    const told = words({ kind: 'timing', value, fromSlot: null }, FORM, swing);
    expect(told).toBe(`${heard} ${GOES} Grade by it with ${options}.`);
  });

  it.each([
    [
      60,
      'The left hand plays below C4 and no split is set, so its notes count as the line’s.',
      'Grade by it with --split C4.',
    ],
    [
      null,
      'The split cuts the line: keys of the line below it were taken for the left hand.',
      'Grade by it without --split.',
    ],
  ])('split %j', (value, heard, remedy) => {
    expect(words({ kind: 'split', value, fromSlot: null })).toBe(`${heard} ${GOES} ${remedy}`);
  });

  it.each([
    [1, 'You came in an eighth late.', '--start 2500'],
    [3, 'You came in 3 eighths late.', '--start 3500'],
    [8, 'You came in a bar late.', '--start 6000'],
    [24, 'You came in 3 bars late.', '--start 14000'],
  ])('start %i', (value, heard, option) => {
    const told = words({ kind: 'start', value, fromSlot: null });
    expect(told).toBe(`${heard} ${GOES} Grade by it with ${option}.`);
  });

  it('start ahead, which no option grades by', () => {
    const told = words({ kind: 'start', value: -16, fromSlot: null });
    expect(told).toBe(`From the start you are 2 bars ahead of the chart. ${GOES} null`);
  });

  it('start by bars of another meter', () => {
    expect(words({ kind: 'start', value: 6, fromSlot: null }, WALTZ)).toContain('a bar late');
  });

  it.each([
    [2, 'two semitones above the chart, in D', 'D'],
    [1, 'a semitone above the chart, in Db', 'Db'],
    [-2, 'two semitones below the chart, in Bb', 'Bb'],
    [6, 'six semitones above the chart, in F#', 'F#'],
  ])('key %i', (value, heard, key) => {
    const told = words({ kind: 'key', value, fromSlot: null });
    expect(told).toBe(
      `The whole take sounds ${heard}. ${GOES} Grade by it with the chart in ${key}.`,
    );
  });

  it.each([
    [-1, 34, 'From bar 5 on you are an eighth ahead of the chart: so much was lost there.'],
    [2, 16, 'From bar 3 on you are 2 eighths behind the chart.'],
  ])('slip %i from slot %i', (value, fromSlot, heard) => {
    expect(words({ kind: 'slip', value, fromSlot })).toBe(`${heard} ${GOES} null`);
  });

  it('level', () => {
    expect(words({ kind: 'level', value: 'thirds', fromSlot: null })).toBe(
      `Most of what is not clean at steps is open at thirds. ${GOES} Grade by it with --level thirds.`,
    );
  });
});
