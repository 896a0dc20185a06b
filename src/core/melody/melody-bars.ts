/** The written bars of a chart as a melody remembers them. */

import { beatsPerBar, type Chart, formatMeter, type WrittenChord } from '../chart/index.ts';
import { TWELFTHS } from '../grading/free-line.ts';
import { tonePc } from '../theory/index.ts';
import type { MelodyBar } from './model.ts';

const NO_ROOT = -1;

/** The bars of the plan `plain`, `%` resolved. */
export function melodyBars(chart: Chart): readonly MelodyBar[] {
  let before: readonly WrittenChord[] = [];
  return chart.sections
    .flatMap(({ bars }) => bars)
    .map(({ content, meter }) => {
      if (content.kind === 'chords') before = content.chords;
      const chords = before;
      const roots = Array.from({ length: beatsPerBar(meter) }, (_, index) => {
        const symbol = chords.findLast(({ beat }) => beat <= index + 1)?.symbol ?? null;
        return symbol === null ? NO_ROOT : tonePc(symbol.root);
      });
      return { meter: formatMeter(meter), roots };
    });
}

/** The same bars so many semitones higher. */
export function raiseBars(bars: readonly MelodyBar[], semitones: number): readonly MelodyBar[] {
  const raise = (root: number): number =>
    root === NO_ROOT ? root : (((root + semitones) % 12) + 12) % 12;
  return bars.map(({ meter, roots }) => ({ meter, roots: roots.map(raise) }));
}

/** Where each written bar begins, in twelfths from the first downbeat, and where the last one ends. */
export function barStarts(bars: readonly MelodyBar[]): readonly number[] {
  let at = 0;
  return [0, ...bars.map(({ roots }) => (at += roots.length * TWELFTHS))];
}
