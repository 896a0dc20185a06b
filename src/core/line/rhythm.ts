/** Rhythm at `free`: what each beat of a line plays, rests and off-beats among the eighths. */

import { beatsPerBar, type Form, isCompound, type Meter } from '../chart/index.ts';
import { chanceAt, STREAM } from './taste/noise.ts';

/**
 * One sound or silence: where in its beat it begins and how long it is, in twelfths of the beat. One that lasts beyond
 * its beat takes the beginning of the next, whose own parts come after it.
 */
export interface RhythmPart {
  readonly at: number;
  readonly length: number;
  readonly isRest: boolean;
}

export type BeatRhythm = readonly RhythmPart[];

interface Pattern {
  /** How often it is used, against the others. */
  readonly weight: number;
  readonly parts: BeatRhythm;
  /** How much of the beat belongs to a note that goes on from the beat before, in twelfths. */
  readonly heldOver: number;
}

const note = (at: number, length: number): RhythmPart => ({ at, length, isRest: false });
const rest = (at: number, length: number): RhythmPart => ({ at, length, isRest: true });
const pattern = (weight: number, ...parts: BeatRhythm): Pattern => ({
  ...{ weight, parts, heldOver: 0 },
});
const heldOver = (weight: number, twelfths: number, ...parts: BeatRhythm): Pattern => ({
  ...{ weight, parts, heldOver: twelfths },
});

/** What a beat may play, and how often. Common practice, no source. */
const SIMPLE: readonly Pattern[] = [
  pattern(6, note(0, 6), note(6, 6)),
  pattern(2, note(0, 12)),
  pattern(2, rest(0, 6), note(6, 6)),
  pattern(1, note(0, 4), note(4, 4), note(8, 4)),
  pattern(1, rest(0, 12)),
  heldOver(2, 6, note(6, 6)),
  heldOver(1, 12),
];
const COMPOUND: readonly Pattern[] = [
  pattern(5, note(0, 4), note(4, 4), note(8, 4)),
  pattern(2, note(0, 12)),
  pattern(2, note(0, 8), note(8, 4)),
  pattern(1, rest(0, 4), note(4, 4), note(8, 4)),
  pattern(1, rest(0, 12)),
  heldOver(2, 4, note(4, 4), note(8, 4)),
];

/** A beat that is a half note, in quarters and eighths. Common practice, no source. */
const HALVES: readonly Pattern[] = [
  pattern(5, note(0, 3), note(3, 3), note(6, 3), note(9, 3)),
  pattern(2, note(0, 6), note(6, 6)),
  pattern(2, note(0, 6), note(6, 3), note(9, 3)),
  pattern(1, note(0, 3), note(3, 6), note(9, 3)),
  pattern(1, rest(0, 6), note(6, 6)),
  pattern(1, rest(0, 3), note(3, 3), note(6, 6)),
  heldOver(2, 3, note(3, 3), note(6, 3), note(9, 3)),
];
/** A beat that is an eighth. Common practice, no source. */
const EIGHTHS: readonly Pattern[] = [
  pattern(8, note(0, 12)),
  pattern(1, note(0, 6), note(6, 6)),
  pattern(2, rest(0, 12)),
];

/** Where a chord begins in the middle of a beat, and nothing else does. */
const HALVED = pattern(1, note(0, 6), note(6, 6));

function tableOf(meter: Meter): readonly Pattern[] {
  if (isCompound(meter)) return COMPOUND;
  if (meter.unit === 8) return EIGHTHS;
  return meter.unit === 2 ? HALVES : SIMPLE;
}

/**
 * The rhythm of every beat of so many choruses, chosen by the seed. Where a chord begins a note begins: a
 * change cannot be shown by silence, nor by a note that goes on.
 */
export function freeRhythm(form: Form, choruses: number, seed: number): readonly BeatRhythm[] {
  const rhythms: BeatRhythm[] = [];
  for (let chorus = 0; chorus < choruses; chorus++) {
    for (const { meter, chords } of form.bars) {
      const table = tableOf(meter);
      for (let beat = 1; beat <= beatsPerBar(meter); beat++) {
        const beginsChord = chords.some((chord) => chord.beat === beat);
        const canHold = holdingNote(rhythms) !== null;
        const halfway = chords.some((chord) => chord.beat === beat + 0.5);
        const open = table.filter(
          ({ parts, heldOver: held }) =>
            (held > 0 ? canHold && !beginsChord : !beginsChord || parts[0]?.isRest === false) &&
            (!halfway || parts.some(({ at, isRest }) => at === 6 && !isRest)),
        );
        const chance = chanceAt(seed, STREAM.rhythm, rhythms.length);
        const picked = open.length === 0 ? HALVED : pick(open, chance);
        if (picked.heldOver > 0) lengthen(rhythms, picked.heldOver);
        rhythms.push(picked.parts);
      }
    }
  }
  return rhythms;
}

/** The last part so far where it is a note off the beat: held over the next beat, it is a syncopation. */
function holdingNote(rhythms: readonly BeatRhythm[]): RhythmPart | null {
  const last = rhythms.at(-1)?.at(-1);
  return last === undefined || last.isRest || last.at === 0 ? null : last;
}

function lengthen(rhythms: BeatRhythm[], by: number): void {
  const last = rhythms.at(-1) ?? [];
  rhythms[rhythms.length - 1] = last.map((part, index) =>
    index === last.length - 1 ? { ...part, length: part.length + by } : part,
  );
}

function pick(table: readonly Pattern[], chance: number): Pattern {
  const whole = table.reduce((sum, { weight }) => sum + weight, 0);
  let left = chance * whole;
  for (const one of table) {
    left -= one.weight;
    if (left < 0) return one;
  }
  return pattern(1, note(0, 12));
}
