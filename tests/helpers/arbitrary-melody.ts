/** Random melodies that fit a chart. */

import fc from 'fast-check';
import {
  type Chart,
  eighthsPerBeat,
  firstMeter,
  longestPickup,
} from '../../src/core/chart/index.ts';
import {
  barStarts,
  type Melody,
  type MelodySound,
  melodyBars,
} from '../../src/core/melody/index.ts';
import { keyFifths } from '../../src/core/theory/index.ts';

const NAMES = ['C4', 'Eb4', 'F#4', 'G4', 'Bb4', 'B4', 'Cb5', 'D#5', 'E#5', 'Abb5', 'F##3', 'C8'];

/** Sounds of any whole number of twelfths over all bars, with rests between, and a pickup or none. */
export function arbitraryMelody(chart: Chart): fc.Arbitrary<Melody> {
  const bars = melodyBars(chart);
  const starts = barStarts(bars);
  const end = starts.at(-1) ?? 0;
  const piece = fc.record({
    rest: fc.oneof(
      fc.constant(0),
      fc.constantFrom(2, 3, 4, 6, 12),
      fc.integer({ min: 0, max: 50 }),
    ),
    length: fc.oneof(fc.constantFrom(3, 4, 6, 12, 24), fc.integer({ min: 1, max: 60 })),
    name: fc.constantFrom(...NAMES),
  });
  const leadIn = fc.oneof(fc.constant(0), fc.integer({ min: 1, max: starts[1] ?? 0 }));
  return fc
    .record({ leadIn, pieces: fc.array(piece, { minLength: 1, maxLength: 40 }) })
    .map(({ leadIn: before, pieces }): Melody => {
      let at = -before;
      const sounds: MelodySound[] = [];
      for (const { rest, length, name } of pieces) {
        const from = Math.min(at + rest, end - 1);
        if (from < at) break;
        const to = Math.min(from + length, end);
        sounds.push({ from, length: to - from, name });
        at = to;
      }
      return { leadIn: before, fifths: keyFifths(chart.key), bars, sounds };
    });
}

/**
 * A chart and its melody as a score gives them back. It has one pickup: the longer of the two, in whole eighths where the
 * chart named none.
 */
export function withOnePickup(
  chart: Chart,
  melody: Melody,
): { readonly chart: Chart; readonly melody: Melody } {
  const meter = firstMeter(chart);
  const eighth = 12 / eighthsPerBeat(meter);
  const sung = Math.min(Math.ceil(melody.leadIn / eighth), longestPickup(meter));
  const named = chart.pickup?.eighths ?? 0;
  return {
    chart: {
      ...chart,
      pickup: chart.pickup ?? (sung === 0 ? null : { eighths: sung, chords: [] }),
    },
    melody: { ...melody, leadIn: named > sung ? named * eighth : melody.leadIn },
  };
}
