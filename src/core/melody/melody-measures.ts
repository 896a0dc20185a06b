/** A melody as bars of note values, with its pickup before them: over the bars as written, or as they are played. */

import { type Chart, type Form, type Meter, playOrder } from '../chart/index.ts';
import { layMeasures, type Measure, pickupMeasure, withPickup } from '../score/index.ts';
import { barStarts } from './melody-bars.ts';
import type { Melody, MelodySound } from './model.ts';

/** Bars without chords over them, from 1. */
export function bareBars(meters: readonly Meter[]): Pick<Form, 'bars'> {
  return {
    bars: meters.map((meter, index) => ({
      ...{ bar: index + 1, section: null, beginsSection: false, meter, chords: [] },
    })),
  };
}

/**
 * The bars of a form with the melody over them. The form is one of the chart's plans, written out or as it is played;
 * `order` names the written bar, from 0, under each of its bars. The melody must fit the chart.
 */
export function melodyMeasures(
  form: Pick<Form, 'bars'>,
  order: readonly number[],
  melody: Melody,
): readonly Measure[] {
  const sounds = inOrder(melody, order).map((sound, slot) => ({ ...sound, slot }));
  const bars = layMeasures(form, sounds, 1);
  const [first] = bars;
  if (melody.leadIn === 0 || first === undefined) return bars;
  return withPickup(pickupMeasure(melody.leadIn, sounds, [], first.meter), bars);
}

/** The written bars under the bars of a chart as it is played. */
export function playedBars(chart: Chart): readonly number[] {
  return playOrder(chart.sections.flatMap(({ bars }) => bars));
}

/** The written bars of a chart, each once. */
export function writtenOrder(chart: Chart): readonly number[] {
  return chart.sections.flatMap(({ bars }) => bars).map((_, index) => index);
}

/** The sounds bar by bar in an order; one that goes on into the next written bar goes on where that one follows. */
function inOrder({ bars, sounds }: Melody, order: readonly number[]): readonly MelodySound[] {
  const starts = barStarts(bars);
  const played: MelodySound[] = sounds
    .filter(({ from }) => from < 0)
    .map((sound) => ({ ...sound, length: Math.min(sound.length, -sound.from) }));
  let at = 0;
  let before = -1;
  for (const bar of order) {
    const [start = 0, end = start] = [starts[bar], starts[bar + 1]];
    for (const { from, length, name } of soundsWithin(sounds, start, end)) {
      const begins = Math.max(from, start);
      const piece = {
        from: at + begins - start,
        length: Math.min(from + length, end) - begins,
        name,
      };
      const last = played.at(-1);
      const goesOn = from < start && bar === before + 1 && last?.name === name;
      if (goesOn && last.from + last.length === at) {
        played[played.length - 1] = { ...last, length: last.length + piece.length };
      } else played.push(piece);
    }
    before = bar;
    at += end - start;
  }
  return played;
}

/** The sounds that reach into a stretch of time, found by halving: a chart may have ten thousand bars. */
function soundsWithin(
  sounds: readonly MelodySound[],
  start: number,
  end: number,
): readonly MelodySound[] {
  const firstWhere = (holds: (sound: MelodySound) => boolean): number => {
    let [low, high] = [0, sounds.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      const sound = sounds[middle];
      if (sound !== undefined && holds(sound)) high = middle;
      else low = middle + 1;
    }
    return low;
  };
  return sounds.slice(
    firstWhere(({ from, length }) => from + length > start),
    firstWhere(({ from }) => from >= end),
  );
}
