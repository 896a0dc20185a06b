/** Readings of takes made by hand: each kind, its value, and when it is given. Expected values: `grading.md`, "Other readings". */

import { describe, expect, it } from 'vitest';
import { type Form, transposeForm } from '../../../../src/core/chart/index.ts';
import {
  applyReading,
  type GradeSettings,
  gradeTake,
  type Reading,
  readTake,
} from '../../../../src/core/grading/index.ts';
import { isGiven } from '../../../../src/core/grading/readings/cleared.ts';
import { writeLine } from '../../../../src/core/line/index.ts';
import type { TakeEvents } from '../../../../src/core/take/model.ts';
import { formFromText } from '../../../helpers/form-from-text.ts';
import {
  bar,
  C_IONIAN,
  formOf,
  inOrder,
  key,
  lineEvents,
  midi,
  type PlayedNote,
  STEADY_60,
} from '../../../helpers/hand-made.ts';

/** A change at every bar, to a key that shares few notes with the one before, and no order that comes again. */
const FORM = formFromText(
  '| Cmaj7 | Ebmaj7 | Dmaj7 | Abmaj7 | Bmaj7 | Fmaj7 | Gbmaj7 | Amaj7 | Dbmaj7 | Gmaj7 | Emaj7 | Bbmaj7 | Dmaj7 | Cmaj7 | Amaj7 | Ebmaj7 |',
);

/** One chorus of it, clean at every level. */
function cleanLine(): readonly string[] {
  const line = writeLine(FORM, {
    ...{ level: 'steps', choruses: 1, slotsPerBeat: null, swing: 1, seed: 3, density: 0.2 },
    register: { lowestMidi: 60, highestMidi: 84 },
    startMidi: null,
    style: 'teaching',
    direction: 0,
    rules: { lineUp: 'flag' },
  });
  if (!line.ok) throw new Error(JSON.stringify(line.problems));
  return line.value.notes.map(({ name }) => name);
}

const LINE = cleanLine();
const LOWEST = Math.min(...LINE.map(midi));
const THIRDS: GradeSettings = { level: 'thirds', tempo: STEADY_60, choruses: 1 };
const EIGHTH_MS = 500;

function octaveHigher(name: string): string {
  return name.replace(/\d$/, (octave) => String(Number(octave) + 1));
}

function named(names: readonly (string | null)[], offMs = 0): readonly (PlayedNote | null)[] {
  return names.map((name) => (name === null ? null : { name, offMs }));
}

function read(take: TakeEvents, settings: GradeSettings = THIRDS, form: Form = FORM) {
  return readTake({ form, take, settings }, null).report;
}

function moved(take: TakeEvents, semitones: number): TakeEvents {
  return {
    ...take,
    events: take.events.map((event) =>
      'midi' in event ? { ...event, midi: event.midi + semitones } : event,
    ),
  };
}

const kindsOf = (readings: readonly Reading[]) => readings.map(({ kind, value }) => [kind, value]);

describe('a take that fits as it is', () => {
  it('has no reading', () => {
    expect(read(lineEvents(FORM, named(LINE))).readings).toEqual([]);
    expect(read(lineEvents(FORM, named(LINE))).summary.clean).toBe(128);
  });
});

describe('timing', () => {
  it('is told as the settings to grade with', () => {
    const late = lineEvents(FORM, named(LINE, 90));
    const report = read(late);
    expect(report.readings).toEqual([
      { kind: 'timing', value: { swing: 1, latencyMs: 90 }, fromSlot: null, clears: 128, of: 128 },
    ]);
    expect(report.summary.timing).toMatchObject({ steadyOffsetMs: 90, steadySwing: null });
    // Verdicts stay.
    expect(report.summary.late).toBe(128);
  });

  it('adds to the latency there is', () => {
    const late = lineEvents(FORM, named(LINE, 90), { latencyMs: 30 });
    const { readings } = read(late, { ...THIRDS, latencyMs: 30 });
    expect(readings[0]?.value).toEqual({ swing: 1, latencyMs: 120 });
  });

  // So many notes 90 ms late among those that are 70 late, which the tolerance of 75 allows.
  it.each([
    [7, null, []],
    [8, 70, ['timing']],
  ])('with %i notes out of time: %j', (count, steadyOffsetMs, kinds) => {
    const line = named(LINE).map(
      (note, slot) => note && { ...note, offMs: slot < count ? 90 : 70 },
    );
    const report = read(lineEvents(FORM, line));
    expect(report.summary.late).toBe(count);
    expect(report.summary.timing.steadyOffsetMs).toBe(steadyOffsetMs);
    expect(report.readings.map(({ kind }) => kind)).toEqual(kinds);
  });

  it('is told in the summary alone where most faults are others', () => {
    // 16 notes late, the rest nearly, and a second key in every other slot, within a hand of the first.
    const late = named(LINE).map((note, slot) => note && { ...note, offMs: slot < 16 ? 90 : 70 });
    const extras = Array.from({ length: 64 }, (_, slot) =>
      key(2 * slot * EIGHTH_MS + 75, 'C5', 20),
    );
    const take = inOrder([...lineEvents(FORM, late).events, ...extras.flat()]);
    const report = read(take, { ...THIRDS, level: 'leaps' });
    expect(report.summary.timing.steadyOffsetMs).toBe(70);
    expect(report.readings).toEqual([]);
  });
});

describe('start', () => {
  it.each([1, 2, 5, 8, 16, 24])('%i slots later', (late) => {
    const silence: readonly null[] = Array.from({ length: late }, () => null);
    const report = read(lineEvents(FORM, named([...silence, ...LINE]).slice(0, 128)));
    expect(report.readings[0]).toMatchObject({ kind: 'start', value: late });
  });

  it.each([-1, -8, -24])('%i slots, the beginning left out', (early) => {
    const report = read(lineEvents(FORM, named(LINE.slice(-early))));
    expect(report.readings[0]).toMatchObject({ kind: 'start', value: early });
  });

  it('grades nothing before a late entry, and nothing that a beginning left out would have owed', () => {
    const silence: readonly null[] = Array.from({ length: 8 }, () => null);
    const late = {
      form: FORM,
      take: lineEvents(FORM, named([...silence, ...LINE])),
      settings: THIRDS,
    };
    const [reading] = readTake(late, null).report.readings;
    if (reading === undefined) throw new Error('no reading');
    const { report } = readTake(late, { reading, choice: 'taken' });
    expect(report.summary).toMatchObject({ slots: 128, clean: 128 });
    expect(report.readings).toEqual([]);
  });
});

describe('start ahead, taken', () => {
  it('judges nothing of the bar that was left out', () => {
    const ahead = { form: FORM, take: lineEvents(FORM, named(LINE.slice(8))), settings: THIRDS };
    const [reading] = readTake(ahead, null).report.readings;
    if (reading?.kind !== 'start') throw new Error('no start');
    const { report } = readTake(ahead, { reading, choice: 'taken' });
    expect(report.summary).toMatchObject({ slots: 120, clean: 120, gap: 0, unjudged: 8 });
    expect(report.breaks).toEqual([]);
  });
});

describe('key', () => {
  it.each([-5, -1, 1, 2, 6])('%i semitones', (semitones) => {
    const take = moved(lineEvents(FORM, named(LINE)), semitones);
    expect(read(take).readings[0]).toMatchObject({ kind: 'key', value: semitones });
  });

  it('moves the form', () => {
    const take = moved(lineEvents(FORM, named(LINE)), 2);
    const [reading] = read(take).readings;
    if (reading === undefined) throw new Error('no reading');
    const { form } = applyReading({ form: FORM, take, settings: THIRDS }, reading);
    expect(form).toEqual(transposeForm(FORM, 2));
    expect(gradeTake(form, take, THIRDS).summary.clean).toBe(128);
  });
});

describe('slip', () => {
  it.each([
    [-1, 'ahead'],
    [-2, 'ahead'],
    [1, 'behind'],
    [2, 'behind'],
  ])('%i slots %s from bar 5 on', (value) => {
    const twice = [...LINE, ...LINE];
    const before = twice.slice(0, 32);
    const after = value < 0 ? twice.slice(32 - value) : twice.slice(32);
    const lost: readonly null[] = Array.from({ length: Math.max(0, value) }, () => null);
    const report = read(lineEvents(FORM, named([...before, ...lost, ...after]).slice(0, 256)), {
      ...THIRDS,
      choruses: 2,
    });
    const [reading] = report.readings;
    expect(reading).toMatchObject({ kind: 'slip', value });
    // From the first slot on at which a note of the bar before would be wrong: bar 4 or the beginning of bar 5.
    expect(reading?.fromSlot).toBeGreaterThanOrEqual(24);
    expect(reading?.fromSlot).toBeLessThanOrEqual(32 + Math.max(0, value));
  });

  it.each([-1, -2])('%i slots, an octave higher from there: begins at the leap', (value) => {
    const twice = [...LINE, ...LINE];
    const after = twice.slice(32 - value).map(octaveHigher);
    const line = [...twice.slice(0, 32), ...after].slice(0, 250);
    const { readings } = read(lineEvents(FORM, named(line)), { ...THIRDS, choruses: 2 });
    // The one place from which on the reading clears the leap too.
    expect(readings[0]).toMatchObject({ kind: 'slip', value, fromSlot: 32 });
  });

  it('begins at slot 8 at the earliest, before that it is a start', () => {
    const report = read(lineEvents(FORM, named([...LINE.slice(0, 4), ...LINE.slice(5)])));
    const slip = report.readings.find(({ kind }) => kind === 'slip');
    expect(report.readings[0]).toMatchObject({ kind: 'start', value: -1 });
    expect(slip?.fromSlot ?? 8).toBeGreaterThanOrEqual(8);
  });
});

describe('level', () => {
  const scale = formOf(Array.from({ length: 16 }, () => bar(C_IONIAN)));
  const steps: GradeSettings = { ...THIRDS, level: 'steps', lineUp: 'flag' };
  /** In so many bars two thirds, which are not open at steps. */
  const withThirds = (bars: number) =>
    Array.from({ length: 16 }, (_, index) =>
      (index < bars ? 'C4 D4 E4 F4 G4 E4 F4 D4' : 'C4 D4 E4 F4 G4 F4 E4 D4').split(' '),
    ).flat();

  it.each([
    [3, []],
    [4, [['level', 'thirds']]],
  ])('thirds in %i bars: %j', (bars, readings) => {
    const report = read(lineEvents(scale, named(withThirds(bars))), steps, scale);
    expect(report.summary.interval).toBe(2 * bars);
    expect(kindsOf(report.readings)).toEqual(readings);
  });

  it('goes by the defaults of the wider level', () => {
    const take = lineEvents(FORM, named(LINE));
    const reading = { kind: 'level', value: 'thirds', fromSlot: null } as const;
    const played = { form: FORM, take, settings: steps };
    expect(applyReading(played, reading).settings).toEqual({
      ...steps,
      level: 'thirds',
      approach: 'allow',
      repeats: 'flag',
      lineUp: 'flag',
      anticipation: 'flag',
    });
  });
});

describe('split', () => {
  /** The root under the first eighth of so many bars. */
  const roots = (bars: number) =>
    Array.from({ length: bars }, (_, index) => key(index * 8 * EIGHTH_MS, 'C2', 100)).flat();
  const withRoots = (bars: number) =>
    inOrder([...lineEvents(FORM, named(LINE)).events, ...roots(bars)]);

  it.each([
    [7, undefined],
    [8, LOWEST],
    [16, LOWEST],
  ])('roots in %i bars: %j', (bars, value) => {
    const { readings } = read(withRoots(bars));
    expect(readings.find(({ kind }) => kind === 'split')?.value).toBe(value);
  });

  // One low key long after the line: of so many slots 129 have a note. Own rule.
  it.each([
    [1032, LOWEST],
    [1033, undefined],
  ])('in a take that lasts %i slots, nearly all of them silent: %j', (slots, value) => {
    const last = key((slots - 1) * EIGHTH_MS, 'C2', 100);
    const take = inOrder([...withRoots(16).events, ...last]);
    const { readings, slots: graded } = read(take, { ...THIRDS, choruses: null });
    expect(graded).toHaveLength(slots);
    expect(readings.find(({ kind }) => kind === 'split')?.value).toBe(value);
  });

  it('is taken off where one is set and cuts the line', () => {
    const report = read(lineEvents(FORM, named(LINE)), { ...THIRDS, splitMidi: 70 });
    expect(kindsOf(report.readings)).toEqual([['split', null]]);
  });
});

describe('what is given', () => {
  it.each([
    [7, 7, false],
    [8, 8, true],
    [8, 16, true],
    [8, 17, false],
  ])('clearing %i of %i: %j', (clears, of, given) => {
    expect(isGiven({ clears, of })).toBe(given);
  });

  it('clears at least half: wrong notes as many as the late ones stay in the way', () => {
    // Every note late, and in the first so many slots an extra beside it.
    const extras = (count: number) =>
      inOrder([
        ...lineEvents(FORM, named(LINE, 90)).events,
        ...Array.from({ length: count }, (_, slot) => key(slot * EIGHTH_MS + 95, 'C5', 20)).flat(),
      ]);
    expect(kindsOf(read(extras(127)).readings)).toHaveLength(1);
    expect(read(extras(127)).readings[0]).toMatchObject({ kind: 'timing', clears: 128, of: 255 });
  });

  it('is at most three, those that clear most first', () => {
    const take = moved(lineEvents(FORM, named(LINE, 90)), 2);
    const { readings } = read(take);
    expect(readings.length).toBeLessThanOrEqual(3);
    const clears = readings.map((reading) => reading.clears);
    expect(clears).toEqual(clears.toSorted((one, other) => other - one));
  });
});
