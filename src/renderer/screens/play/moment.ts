/** What the play screen shows of the time: which chord is in force, which comes next and how near it is. Pure. */

import { type Form, type FormChord, PICKUP_BAR } from '../../../core/chart/index.ts';
import { placeInForm } from '../../palette/palette-words.ts';

/** Within this many beats of a change, its tones are told apart. */
const NEAR_BEATS = 1;

export interface Moment {
  /** From 1. */
  readonly chorus: number;
  /** The bar under way, as numbered in the form; null before the first. */
  readonly bar: number | null;
  readonly chord: FormChord;
  readonly next: FormChord;
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
  return { chorus, bar, chord, next, isNear: place.beatsLeft <= NEAR_BEATS, before };
}

/** Whether two moments of one form look the same. */
export function isSameMoment(one: Moment | null, other: Moment | null): boolean {
  return (
    one?.chorus === other?.chorus &&
    one?.bar === other?.bar &&
    one?.chord === other?.chord &&
    one?.next === other?.next &&
    one?.isNear === other?.isNear &&
    one?.before === other?.before
  );
}
