/**
 * Another reading of a take: a neighbouring setting that it fits far better than the one it was played with. Source of kinds,
 * values and thresholds: `grading.md`, "Steady swing and offset" and "Other readings". Plain data that survives JSON.
 */

import type { Level, ReadingChoice, ReadingKind } from '../../words.ts';

/** A steady swing and offset, as settings to grade with: what does not hold keeps the value it had. */
export interface TimingValue {
  /** Long : short, from 1 to 4, to a hundredth. */
  readonly swing: number;
  /** What is taken off every onset of the source most of the line came from, in whole ms. */
  readonly latencyMs: number;
}

interface Cleared {
  /** The first slot that is read otherwise; null where all of them are. */
  readonly fromSlot: number | null;
  /** Faults and changes not on time that go, over the slots judged either way. */
  readonly clears: number;
  /** How many there were over those slots. */
  readonly of: number;
}

interface WholeTake extends Cleared {
  readonly fromSlot: null;
}

export interface TimingReading extends WholeTake {
  readonly kind: 'timing';
  readonly value: TimingValue;
}

export interface SplitReading extends WholeTake {
  readonly kind: 'split';
  /** Lowest key of the line; null: no split. */
  readonly value: number | null;
}

export interface StartReading extends WholeTake {
  readonly kind: 'start';
  /** Slots, not 0: slot s is judged as s − value, so that a positive one entered later. */
  readonly value: number;
}

export interface KeyReading extends WholeTake {
  readonly kind: 'key';
  /** Semitones from the chart to what was played: −5 to 6, not 0. */
  readonly value: number;
}

export interface SlipReading extends Cleared {
  readonly kind: 'slip';
  readonly fromSlot: number;
  /** 1 or 2 slots, of either sign: from `fromSlot` on slot s is judged as s − value, so that a positive one is behind. */
  readonly value: number;
}

export interface LevelReading extends WholeTake {
  readonly kind: 'level';
  readonly value: Level;
}

export type Reading =
  | TimingReading
  | SplitReading
  | StartReading
  | KeyReading
  | SlipReading
  | LevelReading;

type Bare<Kind> = Kind extends Reading ? Omit<Kind, 'clears' | 'of'> : never;

/** Which reading, whatever it clears. */
export type ReadingValue = Bare<Reading>;

/** What a player said to the first reading of a take. Kept with the take; without one it is undecided. */
export interface ReadingDecision {
  readonly reading: Reading;
  readonly choice: ReadingChoice;
}

/** Kinds that put the take's figures in doubt; a slip or a level only explains. */
const DOUBTING: readonly ReadingKind[] = ['timing', 'split', 'start', 'key'];

/** Whether a take counts for nothing in readiness as long as this is its first reading and undecided. */
export function isDoubting({ kind }: Pick<Reading, 'kind'>): boolean {
  return DOUBTING.includes(kind);
}
