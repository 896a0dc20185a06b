/** What of a map can be a hole or a habit: each with how often it came, and out of how many. */

import type { ChartMap } from './model.ts';
import { notesOn, timesPlayed, total } from './sum.ts';

/** Index of a stretch, in `stretch`. Octaves as in note names: 4 is from C4 (MIDI 60) to B4. */
export type Feature =
  | { readonly kind: 'tone'; readonly stretch: number; readonly pc: number }
  | { readonly kind: 'arrival'; readonly stretch: number; readonly pc: number }
  | {
      readonly kind: 'crossing';
      readonly stretch: number;
      readonly direction: 'rising' | 'falling';
    }
  | { readonly kind: 'octave'; readonly octave: number };

export interface FeatureCount {
  readonly feature: Feature;
  readonly count: number;
  readonly of: number;
}

/** All features of a map, in an order that is the same for all maps of a form and register. */
export function featureCounts(map: ChartMap, octaves: readonly number[]): readonly FeatureCount[] {
  const stretchOf = new Map(map.chords.map(({ place }, index) => [keyOf(place), index]));
  const tones = map.chords.flatMap((chord, stretch) => {
    const of = notesOn(chord);
    return chord.tones.map(
      (tone): FeatureCount => ({
        feature: { kind: 'tone', stretch, pc: tone.pc },
        count: timesPlayed(tone),
        of,
      }),
    );
  });
  const changes = map.changes.flatMap(({ place, intervals }): readonly FeatureCount[] => {
    const stretch = stretchOf.get(keyOf(place)) ?? 0;
    const arrived = map.chords[stretch]?.tones ?? [];
    const arrivals = arrived.reduce((sum, tone) => sum + tone.arrivals, 0);
    const crossings = total(intervals);
    const rising = Object.entries(intervals)
      .filter(([interval]) => Number(interval) > 0)
      .reduce((sum, [, count]) => sum + count, 0);
    const falling = Object.entries(intervals)
      .filter(([interval]) => Number(interval) < 0)
      .reduce((sum, [, count]) => sum + count, 0);
    return [
      ...arrived.map(
        (tone): FeatureCount => ({
          feature: { kind: 'arrival', stretch, pc: tone.pc },
          count: tone.arrivals,
          of: arrivals,
        }),
      ),
      { feature: { kind: 'crossing', stretch, direction: 'rising' }, count: rising, of: crossings },
      {
        feature: { kind: 'crossing', stretch, direction: 'falling' },
        count: falling,
        of: crossings,
      },
    ];
  });
  const byOctave = new Map<number, number>();
  for (const { tones } of map.chords) {
    for (const { keys } of tones) {
      for (const [midi, count] of Object.entries(keys)) {
        const octave = octaveOf(Number(midi));
        byOctave.set(octave, (byOctave.get(octave) ?? 0) + count);
      }
    }
  }
  const notes = [...byOctave.values()].reduce((sum, count) => sum + count, 0);
  return [
    ...tones,
    ...changes,
    ...octaves.map(
      (octave): FeatureCount => ({
        feature: { kind: 'octave', octave },
        count: byOctave.get(octave) ?? 0,
        of: notes,
      }),
    ),
  ];
}

function keyOf({ bar, beat }: { readonly bar: number; readonly beat: number }): string {
  return `${bar} ${beat}`;
}

/** The octave of a key as note names count: 60 is C4. */
export function octaveOf(midi: number): number {
  return Math.floor(midi / 12) - 1;
}
