/** Values of options, read from what was typed: what is wrong is told by commander beside the option's name. */

import { InvalidArgumentError } from 'commander';
import { parseNoteName } from '../../core/theory/index.ts';
import { SLOTS_PER_BEAT, type SlotsPerBeat } from '../../core/words.ts';

/** A number in a range, both ends included. */
export function between(least: number, most: number): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (text.trim() === '' || !Number.isFinite(value) || value < least || value > most) {
      throw new InvalidArgumentError(`Give a number from ${least} to ${most}.`);
    }
    return value;
  };
}

/** A whole number in a range, both ends included. */
export function wholeBetween(least: number, most: number): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (text.trim() === '' || !Number.isInteger(value) || value < least || value > most) {
      throw new InvalidArgumentError(`Give a whole number from ${least} to ${most}.`);
    }
    return value;
  };
}

/** Slots to a beat. */
export function slots(text: string): SlotsPerBeat {
  const value = SLOTS_PER_BEAT.find((allowed) => String(allowed) === text);
  if (value === undefined) throw new InvalidArgumentError('Give 1, 2, 3 or 4.');
  return value;
}

/** A key, by name or MIDI number. */
export function note(text: string): number {
  const midi = parseNoteName(text);
  if (midi === null) {
    throw new InvalidArgumentError('Give a key such as C4, Bb3 or F#5, or a number from 0 to 127.');
  }
  return midi;
}

/** Bars of the unrolled form, from 1, both included. */
export interface BarRange {
  readonly from: number;
  readonly to: number;
}

/** A range of bars, such as `5-8`; one number is one bar. */
export function barRange(text: string): BarRange {
  const [, first = '', last = first] =
    /^(\d{1,5})(?:\s*[-–]\s*(\d{1,5}))?$/u.exec(text.trim()) ?? [];
  const range = { from: Number(first), to: Number(last) };
  if (first === '' || range.from < 1 || range.to < range.from) {
    throw new InvalidArgumentError('Give a range of bars such as 5-8, or one bar.');
  }
  return range;
}
