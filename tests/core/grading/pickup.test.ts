/** A pickup is not graded: grading starts at slot 0, `grading.md`, "Slots and onsets". Times by hand: a beat is a second, an eighth half of it. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Form } from '../../../src/core/chart/index.ts';
import {
  createLiveGrader,
  type GradeSettings,
  gradeTake,
} from '../../../src/core/grading/index.ts';
import { pickupNotes, takeMeasures } from '../../../src/core/score/index.ts';
import type { TakeEvent } from '../../../src/core/take/model.ts';
import { plainTake } from '../../../src/core/take/sources.ts';
import { anyForm, anySettings, anyTake } from '../../helpers/arbitrary-take.ts';
import {
  bar,
  C_IONIAN,
  formOf,
  inOrder,
  key,
  lineEvents,
  STEADY_60,
} from '../../helpers/hand-made.ts';

const withPickup = (form: Form, beats: number): Form => ({
  ...form,
  pickup: { beats, meter: { count: Math.ceil(beats), unit: 4 }, chords: [] },
});

/** Live: delivered one by one, the clock told after each. */
function gradeLive(
  form: Form,
  events: readonly TakeEvent[],
  endMs: number,
  settings: GradeSettings,
) {
  const heard: number[] = [];
  const live = createLiveGrader(form, settings, {
    heard: ({ midi }) => heard.push(midi),
    settled() {},
    changed() {},
  });
  for (const event of events) {
    live.take(event);
    live.advance(event.atMs);
  }
  return { report: live.end(endMs), heard };
}

describe('the notes of a pickup', () => {
  const form = withPickup(formOf([bar(C_IONIAN)]), 1);
  const settings: GradeSettings = { level: 'steps', tempo: STEADY_60 };
  const line = lineEvents(form, 'C4 D4 E4 F4');

  test('leave the report as it is without them, live and from a file, and are not heard as the line', () => {
    // Outside, doubled, a leap away from slot 0 and late: none of it is judged.
    const early = [...key(-1000, 'F#4'), ...key(-990, 'C#5'), ...key(-420, 'Bb5')];
    const { events, endMs } = inOrder([...early, ...line.events]);
    const without = gradeTake(form, line, settings);
    expect(gradeTake(form, plainTake(events, endMs), settings)).toEqual(without);
    const live = gradeLive(form, events, endMs, settings);
    expect(live.report).toEqual(without);
    expect(live.heard).toEqual([60, 62, 64, 65]);
    expect(without.slots[0]).toMatchObject({ bar: 1, beat: 1, sub: 0, faults: [] });
  });

  test('do so in every form, at every level and setting', () => {
    const notes = fc.array(
      fc.record({
        beforeBeats: fc.double({ min: 1, max: 3, noNaN: true }),
        midi: fc.integer({ min: 60, max: 80 }),
      }),
      { minLength: 1, maxLength: 8 },
    );
    fc.assert(
      fc.property(anyForm, anySettings, anyTake, notes, (any, set, take, played) => {
        const tempoBpm = set.tempo.kind === 'steady' ? set.tempo.tempoBpm : 60;
        // Whatever else was played, from the downbeat on.
        const from = take.events.filter(({ atMs }) => atMs >= (set.latencyMs ?? 0));
        const early = played.flatMap(({ beforeBeats, midi }): TakeEvent[] => {
          const atMs = (-beforeBeats * 60_000) / tempoBpm + (set.latencyMs ?? 0);
          return [
            { kind: 'noteOn', atMs, midi, velocity: 80 },
            { kind: 'noteOff', atMs: atMs + 1, midi },
          ];
        });
        const whole = inOrder([...early, ...from]);
        const bare = plainTake(from, whole.endMs);
        const own = withPickup(any, 3);
        expect(gradeTake(own, whole, set)).toEqual(gradeTake(any, bare, set));
      }),
      { numRuns: 200 },
    );
  });
});

describe('what was played in a pickup', () => {
  const C = formOf([bar(C_IONIAN)]);
  const settings: GradeSettings = { level: 'steps', tempo: STEADY_60 };
  const read = (beats: number, events: readonly TakeEvent[], other: Partial<GradeSettings> = {}) =>
    pickupNotes(withPickup(C, beats), inOrder(events), { ...settings, ...other }).map(
      ({ at, length, name }) => `${at} ${length} ${name}`,
    );

  test('goes to the nearest eighth, the nearer of two; what lies outside is passed over', () => {
    const events = [
      // Before the pickup, and in the cell of slot 0.
      ...[...key(-1400, 'C4'), ...key(-200, 'C5')],
      ...[...key(-1050, 'D4'), ...key(-990, 'E4'), ...key(-540, 'F4')],
    ];
    expect(read(1, inOrder(events).events)).toEqual(['-12 6 E4', '-6 6 F4']);
  });

  test('of one eighth, of three, in a grid of quarters and of triplets', () => {
    const { events } = inOrder([...key(-1500, 'C4'), ...key(-1000, 'D4'), ...key(-500, 'E4')]);
    expect(read(0.5, events)).toEqual(['-6 6 E4']);
    expect(read(1.5, events)).toEqual(['-18 6 C4', '-12 6 D4', '-6 6 E4']);
    expect(read(0.5, events, { slotsPerBeat: 1 })).toEqual(['-6 6 E4']);
    expect(read(1, events, { slotsPerBeat: 1 })).toEqual(['-12 12 D4']);
    expect(read(1, events, { slotsPerBeat: 3 })).toEqual(['-12 4 D4', '-4 4 E4']);
  });

  test('swings, is late by the latency, and leaves the left hand out', () => {
    const { events } = inOrder([...key(-1000, 'C3'), ...key(-300, 'E4')]);
    expect(read(1, events, { swing: 2 })).toEqual(['-12 6 C3', '-6 6 E4']);
    expect(read(1, events, { splitMidi: 55, latencyMs: 60 })).toEqual(['-6 6 E4']);
  });

  test('is written before bar 1, the meter where the staff begins, and moves no note of the line', () => {
    const form = withPickup(C, 1.5);
    const early = pickupNotes(form, inOrder([...key(-1500, 'G4'), ...key(-500, 'B4')]), settings);
    const report = gradeTake(form, lineEvents(form, 'C4 D4 E4 F4'), settings);
    const { measures } = takeMeasures(form, report, null, early);
    const bare = takeMeasures(form, report, null).measures;
    expect(measures.map(({ bar: number, meterSign }) => [number, meterSign])).toEqual([
      [0, '4/4'],
      [1, null],
    ]);
    expect(bare[0]?.meterSign).toBe('4/4');
    expect(measures[1]?.beats).toEqual(bare[0]?.beats);
    const names = measures[0]?.beats.map(({ notes }) => notes.map(({ name }) => name));
    // Half a beat of filling, G, then a rest and B.
    expect(names).toEqual([
      [null, 'G4'],
      [null, 'B4'],
    ]);
  });
});
