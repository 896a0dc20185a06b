/** Rhythm at `free`: what each beat of a line plays, rests and off-beats among the eighths. */

import { beatsPerBar, type Form, isCompound } from '../chart/index.ts';
import { chanceAt, STREAM } from './taste/noise.ts';

/**
 * One sound or silence of a beat: where it begins and how long it is written, in twelfths of the beat. One that lasts
 * beyond its beat fills whole beats, which then have no part of their own.
 */
export interface RhythmPart {
  readonly at: number;
  readonly length: number;
  readonly isRest: boolean;
}

export type BeatRhythm = readonly RhythmPart[];

type Weighted = readonly [weight: number, rhythm: BeatRhythm];

const note = (at: number, length: number): RhythmPart => ({ at, length, isRest: false });
const rest = (at: number, length: number): RhythmPart => ({ at, length, isRest: true });

/** How often each beat is used, against the others. Common practice, no source. */
const SIMPLE: readonly Weighted[] = [
  [6, [note(0, 6), note(6, 6)]],
  [2, [note(0, 12)]],
  [2, [rest(0, 6), note(6, 6)]],
  [1, [note(0, 4), note(4, 4), note(8, 4)]],
  [1, [rest(0, 12)]],
];
const COMPOUND: readonly Weighted[] = [
  [5, [note(0, 4), note(4, 4), note(8, 4)]],
  [2, [note(0, 12)]],
  [2, [note(0, 8), note(8, 4)]],
  [1, [rest(0, 4), note(4, 4), note(8, 4)]],
  [1, [rest(0, 12)]],
];

/**
 * The rhythm of every beat of so many choruses, chosen by the seed. Where a chord begins the beat sounds, and on it: a
 * change cannot be shown by silence.
 */
export function freeRhythm(form: Form, choruses: number, seed: number): readonly BeatRhythm[] {
  const rhythms: BeatRhythm[] = [];
  for (let chorus = 0; chorus < choruses; chorus++) {
    for (const { meter, chords } of form.bars) {
      const table = isCompound(meter) ? COMPOUND : SIMPLE;
      for (let beat = 1; beat <= beatsPerBar(meter); beat++) {
        const beginsChord = chords.some((chord) => chord.beat === beat);
        const open = beginsChord ? table.filter(([, parts]) => parts[0]?.isRest === false) : table;
        rhythms.push(pick(open, chanceAt(seed, STREAM.rhythm, rhythms.length)));
      }
    }
  }
  return rhythms;
}

function pick(table: readonly Weighted[], chance: number): BeatRhythm {
  const whole = table.reduce((sum, [weight]) => sum + weight, 0);
  let left = chance * whole;
  for (const [weight, rhythm] of table) {
    left -= weight;
    if (left < 0) return rhythm;
  }
  return [];
}
