/** What evidence of playing belongs to: the meters, chords and palettes of one chorus, without what they are called. */

import { type Palette, pcMask } from '../theory/index.ts';
import type { Key } from '../theory/key.ts';
import { tonePc } from '../theory/tone.ts';
import type { Chart, WrittenChord } from './model.ts';
import { laidBars } from './unroll.ts';

const OCTAVE = 12;

/**
 * One text for what sounds the same: equal for charts whose chorus under a plan, played in a key, has the same meters, chords and
 * named palettes on the same beats, however the bars, repeats and symbols are written. Palettes that no one named follow from the
 * chords and the key. Titles, tempos, sections and the pickup, which is never graded, are not in it. Null for a plan the chart does
 * not have.
 */
export function musicOf(chart: Chart, plan: string, key: Key): string | null {
  const bars = laidBars(chart, plan);
  if (bars === null) return null;
  const up = tonePc(key.tonic) - tonePc(chart.key.tonic) + OCTAVE;
  const music = bars.map(({ meter, chords }) => [
    ...[meter.count, meter.unit],
    ...chords.map((chord) => chordMusic(chord, up)),
  ]);
  return JSON.stringify([key.mode, music]);
}

function chordMusic({ beat, beats, symbol, given }: WrittenChord, up: number) {
  const moved = (pc: number): number => (pc + up) % OCTAVE;
  const masks = ({ pcs, falling }: Palette): readonly number[] => [
    pcMask(pcs.map(moved)),
    pcMask((falling?.pcs ?? pcs).map(moved)),
  ];
  return [
    ...[beat, beats],
    symbol && [
      ...[moved(tonePc(symbol.root)), symbol.bass && moved(tonePc(symbol.bass))],
      ...[symbol.altered, symbol.tones.map(({ interval }) => interval)],
    ],
    given && masks(given.palette),
  ];
}
