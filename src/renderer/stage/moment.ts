/** What the stage shows of the time: chord in force, beat, what comes next and how soon. Pure. */

import { beatsPerBar, type Form, type FormChord, PICKUP_BAR } from '../../core/chart/index.ts';
import { placeInForm } from '../palette/palette-words.ts';

/** Within this many beats of a change, its tones are told apart. */
const NEAR_BEATS = 2;

export interface Moment {
  /** From 1. */
  readonly chorus: number;
  /** The bar under way, as numbered in the form; null before the first. */
  readonly bar: number | null;
  /** Of the bar, or of the bar that is counted in, from 1; null while nothing is played. */
  readonly beat: number | null;
  readonly chord: FormChord;
  readonly next: FormChord;
  /** Until the next chord, or in the count-in until the first: whole beats, the one under way among them. */
  readonly beatsLeft: number;
  readonly isNear: boolean;
  readonly before: 'countIn' | 'pickup' | null;
}

/** The moment at a beat position of a take (0 = first downbeat; null: nothing is played); null for an empty form. */
export function momentAt(form: Form, beat: number | null): Moment | null {
  const place = placeInForm(form, beat ?? 0);
  if (place === null) return null;
  const { chorus, chord, next } = place;
  const inPickup = place.bar === PICKUP_BAR;
  const before = beat === null || beat >= 0 ? null : inPickup ? 'pickup' : 'countIn';
  const bar = beat === null || before === 'countIn' ? null : place.bar;
  const untilNext =
    before === 'countIn' ? -(beat ?? 0) - (form.pickup?.beats ?? 0) : place.beatsLeft;
  return {
    ...{ chorus, bar, chord, next, before },
    beat: beat === null ? null : before === null ? place.beat : countedBeat(form, beat),
    beatsLeft: Math.ceil(untilNext),
    isNear: before !== 'countIn' && place.beatsLeft <= NEAR_BEATS,
  };
}

/** Before the first downbeat bars are counted back from it. */
function countedBeat(form: Form, beat: number): number {
  const beats = beatsPerBar(form.bars[0]?.meter ?? form.meter);
  return (((Math.floor(beat) % beats) + beats) % beats) + 1;
}

/** Whether two moments of one form look the same. */
export function isSameMoment(one: Moment | null, other: Moment | null): boolean {
  return (
    one?.chorus === other?.chorus &&
    one?.bar === other?.bar &&
    one?.beat === other?.beat &&
    one?.chord === other?.chord &&
    one?.next === other?.next &&
    one?.beatsLeft === other?.beatsLeft &&
    one?.isNear === other?.isNear &&
    one?.before === other?.before
  );
}
