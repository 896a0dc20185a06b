/** How a palette sounds beside the proposal. */

import { pcMask } from '../palette.ts';
import type { Scale } from '../scales.ts';
import { tonePc } from '../tone.ts';

export type PaletteColour = 'inside' | 'brighter' | 'darker' | 'tension';

/** Scales heard as tension wherever they are not the proposal. Common practice, no source. */
const TENSE: readonly string[] = [
  'altered',
  'altered bb7',
  'half-whole diminished',
  'whole-half diminished',
  'whole tone',
  'augmented',
];

/**
 * The colour of a scale beside the proposed one on the same root: `inside` when one holds the other, `tension` for the
 * altered and symmetrical scales, else brighter or darker by its mean place on the line of fifths.
 * Sharper is brighter: common practice, no source; the mean is our own measure.
 */
export function paletteColour(scale: Scale, proposed: Scale): PaletteColour {
  const own = pcMask(scale.intervals.map(tonePc));
  const other = pcMask(proposed.intervals.map(tonePc));
  if ((own & other) === own || (own & other) === other) return 'inside';
  if (TENSE.includes(scale.name)) return 'tension';
  return brightness(scale) > brightness(proposed) ? 'brighter' : 'darker';
}

function brightness({ intervals }: Scale): number {
  return intervals.reduce((sum, interval) => sum + interval, 0) / intervals.length;
}
