/** What the size of a move costs: the density dial's own part. */

import { hasPc } from '../../grading/index.ts';
import { isWide, MOVE } from './moves.ts';
import type { TastePlace } from './place-costs.ts';
import type { Weights } from './weights.ts';

const FOURTH = 5;
const OCTAVE = 12;

/**
 * The cost of a move by its size; a repeat has its own in `move-costs.ts`. A third or wider move between two tones of the
 * chord is an arpeggio and cheaper. Common practice, no source.
 */
export function intervalCost(
  place: TastePlace,
  fromMidi: number,
  toMidi: number,
  move: number,
  weights: Weights,
): number {
  if (move === MOVE.repeat) return 0;
  if (move <= MOVE.stepDown) return weights.step;
  const { chordMask } = place.entry.chord;
  const isArpeggio = hasPc(chordMask, fromMidi % 12) && hasPc(chordMask, toMidi % 12);
  const off = isArpeggio ? weights.arpeggio : 0;
  if (!isWide(move)) return weights.third - off;
  const semitones = Math.abs(toMidi - fromMidi);
  return (
    weights.wide -
    off +
    weights.semitoneBeyondFourth * Math.max(0, semitones - FOURTH) +
    weights.semitoneBeyondOctave * Math.max(0, semitones - OCTAVE)
  );
}
