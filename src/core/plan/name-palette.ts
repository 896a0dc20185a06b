/** A palette named in words for the chord on a beat: what a command or a file says, with everything that can be wrong. */

import type { Chart } from '../chart/index.ts';
import { failure, type Outcome, success } from '../problem.ts';
import { type PaletteTextProblem, parsePaletteText } from '../theory/index.ts';
import { PLAIN } from '../words.ts';
import { type PlanProblem, planNameProblem } from './plan-problem.ts';
import { type ChordPlace, type PaletteReach, setPalette } from './set-palette.ts';
import { planChords } from './written.ts';

/** A beat of a written bar. */
export interface BeatPlace {
  /** The written bar, from 0. */
  readonly bar: number;
  /** From 1. */
  readonly beat: number;
}

/** The chord in force on a beat of a plan's bar, `%` resolved; null outside the form and for `N.C.`. */
export function chordOnBeat(
  chart: Chart,
  plan: string,
  { bar, beat }: BeatPlace,
): ChordPlace | null {
  const chords = planChords(chart, plan)[bar] ?? [];
  const chord = chords.findIndex((one) => one.beat <= beat && beat < one.beat + one.beats);
  return chords[chord]?.symbol == null ? null : { bar, chord };
}

/**
 * Names a palette, as chart text would between `<` and `>`, for the chord on a beat and as far as `reach` says; null
 * takes the name away. In `plain` or in a plan, which is added when it is new. Problems: those of a plan's name, those
 * of the text with their offset in it, and `noChord`.
 */
export function namePalette(
  chart: Chart,
  plan: string,
  at: BeatPlace,
  reach: PaletteReach,
  text: string | null,
): Outcome<Chart, PlanProblem | PaletteTextProblem> {
  const name = plan === PLAIN ? null : planNameProblem(chart, plan);
  if (name !== null) return failure(name);
  const place = chordOnBeat(chart, plan, at);
  const symbol = place && planChords(chart, plan)[place.bar]?.[place.chord]?.symbol;
  if (!place || !symbol) return failure(noChord(at));
  if (text === null) return success(setPalette(chart, plan, place, reach, null));
  const palette = parsePaletteText(text, symbol.root);
  if (!palette.ok) return palette;
  return success(setPalette(chart, plan, place, reach, { text, palette: palette.value }));
}

function noChord({ bar, beat }: BeatPlace): PlanProblem {
  const read = `beat ${beat} of written bar ${bar + 1}`;
  return { code: 'noChord', read, expected: 'a beat with a chord', suggestion: null };
}
