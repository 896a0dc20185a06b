/** What a take tells, as it lies in the bytes of its month: of most takes of ten years nobody asks for more than the counts. */

import type { BarEvidence, ChangeEvidence, TakeEvidence } from '../../core/progress/index.ts';

/**
 * Numbers of a take in a month: name, tempo, then its counts, range of bars (−1: none), where its bars begin, and how many they are,
 * where its id begins, and how long it is; 1 when it counts for nothing until its reading is decided; its unproven changes, and those
 * of them that are left out.
 */
export const TAKE_NUMBERS = 17;
/** Bar, slots, clean; how often it was played and the squares of its faulty slots, where they were told. */
const BAR_NUMBERS = 5;

/** A bar as numbers. All are counts, so that `times` is one more than it is, and 0 where it was not told. */
export function barNumbers({ bar, slots, clean, times, faultySquares }: BarEvidence): number[] {
  return [bar, slots, clean, times === undefined ? 0 : times + 1, faultySquares ?? 0];
}

function barFrom([
  bar = 0,
  slots = 0,
  clean = 0,
  told = 0,
  faultySquares = 0,
]: BarNumbers): BarEvidence {
  return { bar, slots, clean, ...(told > 0 && { times: told - 1, faultySquares }) };
}

export type BarNumbers = Uint8Array | Uint16Array | Float64Array;

/** The numbers of the takes of a month. */
export interface MonthNumbers {
  readonly takes: Float64Array;
  readonly bars: BarNumbers;
  /** For each take its late changes. */
  late(): readonly (readonly (readonly [bar: number, beat: number, toChord: string])[])[];
}

/** The lists are made each time they are asked for. */
export class PackedEvidence implements TakeEvidence {
  readonly playedAtMs: number;
  readonly choruses: number;
  readonly slots: number;
  readonly clean: number;
  readonly changesCounted: number;
  readonly changesOnTime: number;
  readonly changesUnproven: number;
  readonly changesLeftOut: number;
  readonly isUndecided: boolean;
  readonly #month: MonthNumbers;
  readonly #index: number;

  constructor(month: MonthNumbers, index: number) {
    const at = index * TAKE_NUMBERS;
    const { takes } = month;
    this.playedAtMs = takes[at + 2] ?? 0;
    this.choruses = takes[at + 3] ?? 0;
    this.slots = takes[at + 4] ?? 0;
    this.clean = takes[at + 5] ?? 0;
    this.changesCounted = takes[at + 6] ?? 0;
    this.changesOnTime = takes[at + 7] ?? 0;
    this.isUndecided = takes[at + 14] === 1;
    this.changesUnproven = takes[at + 15] ?? 0;
    this.changesLeftOut = takes[at + 16] ?? 0;
    this.#month = month;
    this.#index = index;
  }

  get bars(): readonly BarEvidence[] {
    const { takes, bars } = this.#month;
    const own: BarEvidence[] = [];
    const from = takes[this.#index * TAKE_NUMBERS + 10] ?? 0;
    const end = from + (takes[this.#index * TAKE_NUMBERS + 11] ?? 0) * BAR_NUMBERS;
    for (let at = from; at < end; at += BAR_NUMBERS) {
      own.push(barFrom(bars.subarray(at, at + BAR_NUMBERS)));
    }
    return own;
  }

  get lateChanges(): readonly ChangeEvidence[] {
    const own = this.#month.late()[this.#index] ?? [];
    return own.map(([bar, beat, toChord]) => ({ bar, beat, toChord }));
  }
}
