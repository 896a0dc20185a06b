/** Random forms and sloppy random takes over them, for laws that must hold whatever is played. */

import fc from 'fast-check';
import type { Form } from '../../src/core/chart/model.ts';
import type { GradeSettings } from '../../src/core/grading/index.ts';
import type { TakeBreak, TakeEvent, TakeEvents, TakeSource } from '../../src/core/take/model.ts';
import { LEVELS } from '../../src/core/words.ts';
import {
  C_BOTH_WAYS,
  C_DORIAN,
  C_IONIAN,
  C_MINOR,
  D_DORIAN,
  formOf,
  inOrder,
  palette,
} from './hand-made.ts';

const PALETTES = [
  C_IONIAN,
  C_DORIAN,
  C_MINOR,
  D_DORIAN,
  C_BOTH_WAYS,
  palette('minor pentatonic', 'C Eb F G Bb'),
  palette('half-whole diminished', 'C Db Eb E F# G A Bb'),
  null,
];

const anyPalette = fc.constantFrom(...PALETTES);

/** Bars of 4/4 with one, two or four chords. */
const anyBar = fc.oneof(
  anyPalette.map((over) => [{ beats: 4, palette: over }]),
  fc.tuple(anyPalette, anyPalette).map((both) => both.map((over) => ({ beats: 2, palette: over }))),
  fc
    .tuple(anyPalette, anyPalette, anyPalette, anyPalette)
    .map((four) => four.map((over) => ({ beats: 1, palette: over }))),
);

export const anyForm: fc.Arbitrary<Form> = fc
  .array(anyBar, { minLength: 1, maxLength: 6 })
  .map((bars) => formOf(bars));

const allowance = fc.constantFrom('allow' as const, 'flag' as const);

export const anySettings: fc.Arbitrary<GradeSettings> = fc.record({
  level: fc.constantFrom(...LEVELS),
  tempo: fc
    .integer({ min: 40, max: 240 })
    .map((tempoBpm) => ({ kind: 'steady' as const, tempoBpm })),
  choruses: fc.option(fc.integer({ min: 1, max: 3 }), { nil: null }),
  slotsPerBeat: fc.constantFrom(null, 1 as const, 2 as const, 3 as const, 4 as const),
  swing: fc.constantFrom(1, 1.5, 2, 3),
  latencyMs: fc.integer({ min: -40, max: 60 }),
  splitMidi: fc.constantFrom(null, 55),
  approach: allowance,
  repeats: allowance,
  lineUp: allowance,
  anticipation: allowance,
  leftHand: fc.boolean(),
});

/** Key-downs anywhere in the first seconds, in bursts and with holes, most of them in a singable register. */
export const anyTake: fc.Arbitrary<TakeEvents> = fc
  .array(
    fc.record({
      gapMs: fc.oneof(
        fc.double({ min: 0, max: 40, noNaN: true }),
        fc.double({ min: 100, max: 700, noNaN: true }),
      ),
      midi: fc.integer({ min: 48, max: 76 }),
      velocity: fc.integer({ min: 1, max: 127 }),
      holdMs: fc.double({ min: 5, max: 900, noNaN: true }),
    }),
    { maxLength: 60 },
  )
  .map((keys) => {
    const events: TakeEvent[] = [];
    let atMs = -300;
    for (const { gapMs, midi, velocity, holdMs } of keys) {
      atMs += gapMs;
      events.push({ kind: 'noteOn', atMs, midi, velocity });
      events.push({ kind: 'noteOff', atMs: atMs + holdMs, midi });
    }
    return inOrder(events);
  });

const anySource: fc.Arbitrary<TakeSource> = fc.record({
  name: fc.constantFrom('Piano', 'Pad', 'Łódź “keys”'),
  latencyMs: fc.integer({ min: -40, max: 90 }),
  splitMidi: fc.constantFrom(null, 55, 60),
});

/** Spans of the first seconds, some of no length, in any order; most takes have none or one. */
export const anyBreaks: fc.Arbitrary<readonly TakeBreak[]> = fc.array(
  fc
    .tuple(fc.integer({ min: -500, max: 20_000 }), fc.integer({ min: 0, max: 900 }))
    .map(([fromMs, lengthMs]) => ({ fromMs, toMs: fromMs + lengthMs })),
  { maxLength: 3 },
);

/** The takes above, their keys spread over up to three keyboards, with breaks. */
export function withSources(take: fc.Arbitrary<TakeEvents>): fc.Arbitrary<TakeEvents> {
  return fc
    .tuple(
      take,
      fc.array(anySource, { minLength: 1, maxLength: 3 }),
      fc.array(fc.nat({ max: 5 }), { minLength: 1, maxLength: 7 }),
      anyBreaks,
    )
    .map(([{ events, endMs }, sources, spread, breaks]) => ({
      events: events.map((event, index) => {
        const source = (spread[index % spread.length] ?? 0) % sources.length;
        return source === 0 ? event : { ...event, source };
      }),
      ...{ endMs, sources, breaks },
    }));
}

/** Settings that leave latency and split to the sources. */
export const anySourcedSettings: fc.Arbitrary<GradeSettings> = anySettings.map(
  ({ latencyMs: _latency, splitMidi: _split, ...settings }) => settings,
);
