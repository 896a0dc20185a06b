/** Whether a melodic interval is open at a level. Source of the table: `grading.md`, "Intervals". */

import type { Allowance, Level } from '../words.ts';
import { type PaletteView, paletteSteps } from './palette-view.ts';

/** `open` is no fault; `third` is the one size the line-up allowance can excuse at `steps`. */
export type IntervalVerdict = 'open' | 'repeat' | 'third' | 'leap';

/** Largest open interval by level, in palette steps or in semitones, whichever lets it pass. */
const OPEN: Readonly<
  Record<'steps' | 'thirds', { readonly steps: number; readonly semitones: number }>
> = {
  steps: { steps: 1, semitones: 2 },
  thirds: { steps: 2, semitones: 4 },
};

/**
 * Judges the interval into a note. In: MIDI numbers of the note before and the note, the arriving note's
 * palette (null where there is no chord: semitones alone count), level, whether repeats pass.
 * Edge: exactly the largest open size is open.
 */
export function judgeInterval(
  fromMidi: number,
  toMidi: number,
  palette: PaletteView | null,
  level: Level,
  repeats: Allowance,
): IntervalVerdict {
  const semitones = Math.abs(toMidi - fromMidi);
  if (semitones === 0) return repeats === 'allow' ? 'open' : 'repeat';
  if (level === 'leaps' || level === 'free') return 'open';
  const steps = palette === null ? null : paletteSteps(palette, fromMidi, toMidi);
  if (fits(semitones, steps, level)) return 'open';
  return fits(semitones, steps, 'thirds') ? 'third' : 'leap';
}

function fits(semitones: number, steps: number | null, level: 'steps' | 'thirds'): boolean {
  return semitones <= OPEN[level].semitones || (steps !== null && steps <= OPEN[level].steps);
}
