/** What is drawn of a line: positions by hand, and laws over random takes. Own drawing, no outside source. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gradeTake, type Report } from '../../../src/core/grading/index.ts';
import {
  drawChorus,
  FIRST_REGISTER,
  layLine,
  registerFor,
} from '../../../src/renderer/chart-page/line-model.ts';
import { anyForm, anySettings, anyTake } from '../../helpers/arbitrary-take.ts';
import { bar, C_DORIAN, C_IONIAN, formOf, gradeLine } from '../../helpers/hand-made.ts';

const form = formOf([bar(C_IONIAN), bar(C_DORIAN)]);
const REGISTER = { low: 60, high: 84 };

function draw(report: Report, chorus = 1) {
  return drawChorus(
    {
      layout: layLine(form, { level: report.level, slotsPerBeat: null }),
      settled: report.slots,
      heard: new Map(),
      changes: report.changes,
    },
    chorus,
    REGISTER,
  );
}

describe('one bar', () => {
  test('notes lie at their share of the bar, higher notes higher', () => {
    const [first] = draw(gradeLine(form, 'C4 D4 E4'));
    expect(first?.notes.map(({ x, y }) => [x, y])).toEqual([
      [0, 1],
      [1 / 8, 1 - 2 / 24],
      [2 / 8, 1 - 4 / 24],
    ]);
  });

  test('the stroke breaks at a gap and nowhere else', () => {
    const [first] = draw(gradeLine(form, 'C4 D4 - E4 F#4 G4'));
    expect(first?.strokes.map((stroke) => stroke.map(({ x }) => x * 8))).toEqual([
      [0, 1],
      [3, 4, 5],
    ]);
    expect(first?.gaps).toEqual([2 / 8]);
  });

  test('a note carries its faults and marks', () => {
    const [first] = draw(gradeLine(form, 'C4 D4 F#4 F4', { level: 'leaps' }));
    expect(first?.notes[2]).toMatchObject({ marks: ['approach'], faults: [], settled: true });
  });
});

describe('bar lines', () => {
  test('a stroke goes on across the bar line at the same height', () => {
    const [first, second] = draw(gradeLine(form, 'C4 D4 E4 F4 G4 F4 E4 D4 Eb4'));
    const end = first?.strokes.at(-1)?.at(-1);
    const start = second?.strokes[0]?.[0];
    expect(end?.x).toBe(1);
    expect(start?.x).toBe(0);
    expect(end?.y).toBe(start?.y);
  });
});

describe('changes', () => {
  test('a change on time is a mark, a late one a stretch of as many slots', () => {
    const ionian = 'C4 D4 E4 F4 G4 F4 E4 D4';
    const onTime = draw(gradeLine(form, `${ionian} Eb4 D4`))[1]?.changes[0];
    expect(onTime).toMatchObject({ arrival: 'onTime', from: 0, to: 0 });
    const late = draw(gradeLine(form, `${ionian} E4 D4 E4 Eb4`))[1]?.changes[0];
    expect(late).toMatchObject({ arrival: 'late', from: 0, to: 3 / 8, bySlots: 3 });
  });
});

describe('register', () => {
  test('grows by half octaves and only when it must', () => {
    expect(registerFor([58, 60, 76])).toEqual(FIRST_REGISTER);
    expect(registerFor([57])).toEqual({ low: 52, high: 76 });
    expect(registerFor([77, 83])).toEqual({ low: 58, high: 88 });
  });
});

test('every note of a chorus is drawn once, inside its bar, and strokes never cross a gap', () => {
  fc.assert(
    fc.property(anyForm, anySettings, anyTake, (anyOf, settings, take) => {
      const report = gradeTake(anyOf, take, settings);
      const { level, slotsPerBeat } = { slotsPerBeat: null, ...settings };
      const { slots, changes } = report;
      const source = {
        layout: layLine(anyOf, { level, slotsPerBeat }),
        settled: slots,
        heard: new Map(),
        changes,
      };
      const bars = drawChorus(source, 1, { low: 48, high: 84 });
      const notes = bars.flatMap((drawing) => drawing.notes);
      const played = slots.filter(({ chorus, note }) => chorus === 1 && note !== null);
      expect(notes.map(({ slot }) => slot)).toEqual(played.map(({ index }) => index));
      for (const { x, y } of [...notes, ...bars.flatMap(({ strokes }) => strokes.flat())]) {
        expect(x).toBeGreaterThanOrEqual(0);
        expect(x).toBeLessThanOrEqual(1);
        expect(y).toBeGreaterThanOrEqual(0);
        expect(y).toBeLessThanOrEqual(1);
      }
      for (const { strokes, gaps } of bars) {
        for (const stroke of strokes) {
          const from = stroke[0]?.x ?? 0;
          const to = stroke.at(-1)?.x ?? 0;
          if (level !== 'free') expect(gaps.some((gap) => gap > from && gap < to)).toBe(false);
        }
      }
    }),
  );
});
