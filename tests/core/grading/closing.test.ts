/** The note on the downbeat after the last bar. Source: `grading.md`, "Closing note"; worked by hand. */

import { describe, expect, test } from 'vitest';
import { sliceForm } from '../../../src/core/chart/index.ts';
import type { Form } from '../../../src/core/chart/model.ts';
import {
  createLiveGrader,
  type GradeSettings,
  gradeTake,
  type HeardNote,
  type ReportSlot,
} from '../../../src/core/grading/index.ts';
import type { TakeEvent } from '../../../src/core/take/model.ts';
import {
  bar,
  C_DORIAN,
  C_IONIAN,
  D_DORIAN,
  formOf,
  inOrder,
  key,
  lineEvents,
  STEADY_60,
} from '../../helpers/hand-made.ts';

/** Two bars of sixteen slots, 500 ms apart; the chorus ends at 8000 ms. */
const form = formOf([bar(C_IONIAN), bar(C_DORIAN)]);
const LINE = 'C4 D4 E4 F4 G4 F4 E4 D4 C4 D4 Eb4 F4 G4 F4 Eb4 D4';
const END_MS = 8000;

type Keys = readonly (readonly TakeEvent[])[];

function report(settings: Partial<GradeSettings>, keys: Keys, line = LINE, over: Form = form) {
  const take = inOrder([...lineEvents(over, line, settings).events, ...keys.flat()]);
  return gradeTake(over, take, { level: 'leaps', tempo: STEADY_60, ...settings });
}

/** How many slots there are, and what closes them. */
function endOf(settings: Partial<GradeSettings>, keys: Keys, line = LINE) {
  const { slots, extras, closing } = report(settings, keys, line);
  return [slots.length, extras.length, closing && [closing.name, closing.deviationMs]];
}

describe.each([
  ['with a planned end', { choruses: 1 }],
  ['without one', {}],
] as const)('%s', (_name, settings) => {
  test('a note on the downbeat after the last bar closes the line: it is no slot and begins no chorus', () => {
    const { slots, bars, changes, closing, summary } = report(settings, [key(END_MS + 20, 'C4')]);
    expect(slots).toHaveLength(16);
    expect(bars.map(({ chorus }) => chorus)).toEqual([1, 1]);
    expect(changes).toHaveLength(1);
    expect([summary.clean, summary.unplayed]).toEqual([16, 0]);
    expect(closing).toEqual({
      ...{ midi: 60, name: 'C4', onsetMs: END_MS + 20, deviationMs: 20 },
      ...{ chord: 'C0', chordTone: true },
    });
  });

  test('its cell is that of a slot: on either edge, and on either side of them', () => {
    expect(endOf(settings, [key(END_MS - 250, 'C4')])).toEqual([16, 0, ['C4', -250]]);
    expect(endOf(settings, [key(END_MS + 249.9, 'C4')])[0]).toBe(16);
    // A spare in the last cell is an extra there, or fills the empty slot after it where there is one.
    expect(endOf({ choruses: 1 }, [key(END_MS - 250.1, 'C4')])).toEqual([16, 1, null]);
    expect(endOf({ choruses: 1 }, [key(END_MS + 250, 'C4')])).toEqual([16, 0, null]);
    expect(endOf({}, [key(END_MS + 250, 'C4')])).toEqual([18, 0, null]);
  });

  test('all keys of its strike belong to it', () => {
    const chord = [key(END_MS, 'C4', 60), key(END_MS + 10, 'E4', 90), key(END_MS + 30, 'G4', 70)];
    expect(endOf(settings, chord)).toEqual([16, 0, ['E4', 10]]);
  });

  test('a note that is no chord tone of what comes next says so', () => {
    const { closing } = report(settings, [key(END_MS, 'D4')]);
    expect(closing).toMatchObject({ chord: 'C0', chordTone: false });
  });

  test('at free the cell reaches half an eighth to either side of the end', () => {
    const free = { ...settings, level: 'free' } as const;
    const closing = (atMs: number) => endOf(free, [key(atMs, 'C4')], 'C4 D4').slice(0, 3);
    expect(closing(END_MS - 250)).toEqual([2, 0, ['C4', -250]]);
    expect(closing(END_MS + 249.9)[0]).toBe(2);
    expect(closing(END_MS - 250.1)).toEqual([3, 0, null]);
    expect(closing(END_MS + 250)).toEqual(['choruses' in settings ? 2 : 3, 0, null]);
  });
});

describe('with a planned end', () => {
  const settings = { choruses: 1 } as const;
  const SHORT = LINE.replace(/ D4$/, ' -');

  test('later notes are not graded', () => {
    const keys = [key(END_MS, 'C4'), key(END_MS + 200, 'D4'), key(END_MS + 500, 'E4')];
    expect(endOf(settings, keys)).toEqual([16, 0, ['C4', 0]]);
  });

  test('a strike that repair gives the empty last slot is that slot’s, late; on the edge of repair it closes', () => {
    const last = (atMs: number) => {
      const { slots, closing } = report(settings, [key(atMs, 'D4')], SHORT);
      return [slots[15]?.faults.join() ?? 'unplayed', closing?.deviationMs ?? null];
    };
    expect(last(7500 + 374.9)).toEqual(['late', null]);
    expect(last(7500 + 375)).toEqual(['unplayed', -125]);
    // The last slot is filled: the same strike closes.
    expect(report(settings, [key(7500 + 374.9, 'D4')]).closing?.deviationMs).toBeCloseTo(-125.1);
    const both = report(settings, [key(7800, 'D4'), key(END_MS, 'C4')], SHORT);
    expect([both.slots[15]?.note?.name, both.closing?.name]).toEqual(['D4', 'C4']);
  });

  test('slots left out before it are unplayed', () => {
    const { slots, summary, closing } = report(settings, [key(END_MS, 'C4')], 'C4 D4 E4');
    expect([slots.length, summary.unplayed, closing?.name]).toEqual([3, 13, 'C4']);
  });

  test('is heard at once, as what it is, and without a fault', () => {
    const heard: HeardNote[] = [];
    const listener = { settled() {}, changed() {}, heard: (note: HeardNote) => heard.push(note) };
    const live = createLiveGrader(
      form,
      { level: 'steps', tempo: STEADY_60, choruses: 1 },
      listener,
    );
    live.take({ kind: 'noteOn', atMs: END_MS + 130, midi: 61, velocity: 80 });
    expect(heard).toEqual([
      expect.objectContaining({
        slot: 16,
        midi: 61,
        deviationMs: 130,
        faults: [],
        isClosing: true,
      }),
    ]);
    expect(live.end(END_MS + 1000).closing?.midi).toBe(61);
  });
});

describe('without a planned end', () => {
  test('another note makes the first slot of a second chorus of it', () => {
    expect(endOf({}, [key(END_MS, 'C4'), key(END_MS + 500, 'D4')])).toEqual([18, 0, null]);
    expect(endOf({}, [key(END_MS, 'C4'), key(END_MS + 200, 'D4')])[2]).toBeNull();
  });

  test('keys struck with a note that repair moves on from its cell stay extras', () => {
    const keys = [key(END_MS, 'C4'), key(END_MS + 200, 'D4'), key(END_MS + 210, 'F4', 40)];
    expect(endOf({}, keys)).toEqual([18, 1, null]);
  });

  test('after a second chorus the next one is as good an end', () => {
    expect(endOf({}, [key(2 * END_MS, 'C4')], `${LINE} ${LINE}`)).toEqual([32, 0, ['C4', 0]]);
  });

  test('live it is withheld until more comes', () => {
    const told: number[] = [];
    const listener = {
      heard() {},
      changed() {},
      settled: ({ index }: ReportSlot) => told.push(index),
    };
    const live = createLiveGrader(form, { level: 'leaps', tempo: STEADY_60 }, listener, [], 0);
    const events = lineEvents(form, `${LINE} C4`).events;
    for (const event of events) live.take(event);
    live.advance(END_MS + 3000);
    expect(told.at(-1)).toBe(15);
    live.take({ kind: 'noteOn', atMs: END_MS + 3500, midi: 62, velocity: 80 });
    live.advance(END_MS + 5000);
    // The cell of slot 25 is over at 12 750 ms.
    expect(told.slice(16)).toEqual([16, 17, 18, 19, 20, 21, 22, 23, 24]);
  });
});

test('after a range of bars the chord is that of the following bar, after the form its first one', () => {
  const three = formOf([bar(C_IONIAN), bar(C_DORIAN), bar(D_DORIAN)]);
  const chordAfter = (from: number, to: number) => {
    const range = sliceForm(three, from, to);
    const endMs = range.bars.length * 4000;
    return report({ choruses: 1 }, [key(endMs, 'D4')], 'C4', range).closing;
  };
  expect(chordAfter(1, 2)).toMatchObject({ chord: 'D2', chordTone: true });
  expect(chordAfter(1, 1)).toMatchObject({ chord: 'C1', chordTone: false });
  expect(chordAfter(2, 3)).toMatchObject({ chord: 'C0', chordTone: false });
});
