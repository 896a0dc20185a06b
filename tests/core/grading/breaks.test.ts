/** Spans that are not judged. Source: `grading.md`, "Time and grid", breaks; worked by hand. */

import { describe, expect, test } from 'vitest';
import {
  createLiveGrader,
  type GradeSettings,
  gradeTake,
  type ReportSlot,
} from '../../../src/core/grading/index.ts';
import type { TakeBreak } from '../../../src/core/take/model.ts';
import {
  bar,
  C_DORIAN,
  C_IONIAN,
  faultsOf,
  formOf,
  inOrder,
  key,
  lineEvents,
  STEADY_60,
} from '../../helpers/hand-made.ts';

/** Slots are 500 ms apart: the cell of slot 4 lasts from 1750 to 2250 ms. */
const ionian = formOf([bar(C_IONIAN)]);
const two = formOf([bar(C_IONIAN), bar(C_DORIAN)]);
const LINE = 'C4 D4 E4 F4 G4 A4 B4 C5';

function graded(
  line: string,
  breaks: readonly TakeBreak[],
  settings: Partial<GradeSettings> = {},
  form = ionian,
) {
  const take = { ...lineEvents(form, line, settings), breaks };
  return gradeTake(form, take, { level: 'steps', tempo: STEADY_60, choruses: 1, ...settings });
}

function unjudged(fromMs: number, toMs: number, settings: Partial<GradeSettings> = {}) {
  const { slots } = graded(LINE, [{ fromMs, toMs }], settings);
  return slots.filter(({ judged }) => !judged).map(({ index }) => index);
}

describe('a slot is not judged', () => {
  test('when a break touches its cell, both ends included', () => {
    expect(unjudged(1800, 2200)).toEqual([4]);
    expect(unjudged(1750, 1750)).toEqual([3, 4]);
    expect(unjudged(1750.1, 2249.9)).toEqual([4]);
    expect(unjudged(1500, 1749.9)).toEqual([3]);
    expect(unjudged(2250, 2300)).toEqual([4, 5]);
    expect(unjudged(2250.1, 2300)).toEqual([5]);
    expect(unjudged(-900, -600)).toEqual([]);
  });

  test('whatever the latency: a break lies in the time of the sound', () => {
    expect(unjudged(1800, 2200, { latencyMs: 300 })).toEqual([4]);
  });

  test('at free when the break touches its twelfth of a beat', () => {
    // A twelfth is 83.3 ms: the note at 2000 ms has the time from 1958.3 to 2041.7.
    expect(unjudged(1900, 1958, { level: 'free' })).toEqual([]);
    expect(unjudged(1900, 1958.4, { level: 'free' })).toEqual([4]);
    expect(unjudged(2042, 2400, { level: 'free' })).toEqual([]);
  });

  test('and then it has its note, but no faults, no marks, and no interval into or out of it', () => {
    const report = graded('C4 D4 E4 F4 C#6 A4 B4 C5', [{ fromMs: 1900, toMs: 2000 }]);
    expect(report.slots[4]).toMatchObject({ judged: false, note: { midi: 85 }, marks: [] });
    expect(faultsOf(report)).toEqual(['', '', '', '', '', '', '', '']);
    expect(report.summary.line).toMatchObject({ highest: 72, intervals: { 1: 2, 2: 3 } });
  });

  test('a gap and an extra in it are none', () => {
    const take = lineEvents(ionian, 'C4 D4 E4 F4 - A4 B4 C5');
    const doubled = inOrder([...take.events, ...key(2500, 'C4', 40)]);
    const report = gradeTake(
      ionian,
      { ...doubled, breaks: [{ fromMs: 1900, toMs: 2400 }] },
      { level: 'steps', tempo: STEADY_60, choruses: 1 },
    );
    expect(report.summary).toMatchObject({ slots: 6, clean: 6, unjudged: 2, gap: 0, extra: 0 });
    expect(report.summary.cleanRate).toBe(1);
    expect(report.bars).toMatchObject([{ slots: 6, clean: 6, unjudged: 2 }]);
  });
});

describe('a change is not judged', () => {
  /** The change is in slot 8, at 4000 ms; its cell begins at 3750. Its proof, Eb, is in slot 10. */
  const line = `${LINE} C5 D5 Eb5 F5`;
  const arrival = (fromMs: number, toMs: number, played = line) => {
    const { changes, summary } = graded(played, [{ fromMs, toMs }], { choruses: 1 }, two);
    return [changes[0]?.arrival, summary.changes.counted];
  };

  test('when a slot from its own through the one that proves it is not', () => {
    expect(arrival(3760, 3800)).toEqual(['unjudged', 0]);
    expect(arrival(4400, 4500)).toEqual(['unjudged', 0]);
    expect(arrival(5000, 5000)).toEqual(['unjudged', 0]);
  });

  test('not for a slot before it or after its proof', () => {
    expect(arrival(3300, 3700)).toEqual(['onTime', 1]);
    expect(arrival(5260, 5700)).toEqual(['onTime', 1]);
  });

  test('unproven, when any slot through the last one played is', () => {
    const common = `${LINE} C5 D5 C5 D5`;
    expect(arrival(5500, 5500, common)).toEqual(['unjudged', 0]);
    expect(arrival(5760, 5800, common)).toEqual(['unproven', 1]);
  });
});

test('live, a break told before the time past its beginning leaves those slots unjudged, and no others', () => {
  const told: string[] = [];
  const listener = {
    heard() {},
    changed() {},
    settled: ({ index, judged }: ReportSlot) => told.push(`${index}${judged ? '' : '?'}`),
  };
  const settings = { level: 'steps', tempo: STEADY_60, choruses: 1 } as const;
  const live = createLiveGrader(ionian, settings, listener);
  const { events } = lineEvents(ionian, LINE);
  // The sound stands still at 1800 ms, which is doubted at 1950 and decided at 2100.
  for (const event of events) if (event.atMs < 2100) live.take(event);
  live.advance(1950);
  live.advance(1800);
  live.addBreak({ fromMs: 1800, toMs: 2100 });
  for (const event of events) if (event.atMs >= 2100) live.take(event);
  live.advance(6000);
  expect(told).toEqual(['0', '1', '2', '3', '4?', '5', '6', '7']);
});
