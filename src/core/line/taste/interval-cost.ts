/** What a move costs by its size: as often as solos make it, bent by the shape dial. */

import { hasPc } from '../../grading/index.ts';
import { isWide, MOVE } from './moves.ts';
import type { TastePlace } from './place-costs.ts';
import { SOLO_INTERVALS } from './solo-intervals.data.ts';
import type { Weights } from './weights.ts';

const OCTAVE = 12;
/** Stands for a share too small to be counted, in percent. */
const LEAST_PERCENT = 0.05;

const COST_IN_SOLOS = new Map(
  SOLO_INTERVALS.map(([semitones, percent]) => [
    semitones,
    -Math.log(Math.max(percent, LEAST_PERCENT) / 100),
  ]),
);
const WIDEST = Math.max(...COST_IN_SOLOS.keys());

/**
 * The cost of a move. A third or wider move between two tones of the chord is an arpeggio and cheaper. Common practice, no
 * source, but for the intervals' own shares.
 */
export function intervalCost(
  place: TastePlace,
  fromMidi: number,
  toMidi: number,
  move: number,
  weights: Weights,
): number {
  const semitones = toMidi - fromMidi;
  const known = Math.max(-WIDEST, Math.min(WIDEST, semitones));
  const inSolos = COST_IN_SOLOS.get(known) ?? 0;
  if (move === MOVE.repeat) return inSolos + weights.repeat;
  if (move <= MOVE.stepDown) return inSolos + weights.step;
  const { chordMask } = place.entry.chord;
  const isArpeggio = hasPc(chordMask, fromMidi % 12) && hasPc(chordMask, toMidi % 12);
  const off = isArpeggio ? weights.arpeggio : 0;
  if (!isWide(move)) return inSolos + weights.third - off;
  const beyond = Math.max(0, Math.abs(semitones) - OCTAVE);
  const up = move === MOVE.wideUp ? weights.wideUp : 0;
  return inSolos + weights.wide + up - off + weights.semitoneBeyondOctave * beyond;
}
