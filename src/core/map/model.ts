/** The map of a chart: which tones of each palette were played, and how each change was crossed. Plain counts that can be added. */

/** Counts by whole number as text, which survives JSON. */
export type Tally = Readonly<Record<string, number>>;

/** One tone of a palette over one chord. */
export interface ToneCounts {
  /** 0–11, C = 0. */
  readonly pc: number;
  /** On the first slot of a beat, and on the others. */
  readonly onBeat: number;
  readonly offBeat: number;
  /** Reached from a lower note, and from a higher one; after a gap or on the same note again neither. */
  readonly rising: number;
  readonly falling: number;
  /** On the first slot after the change into this chord, and on the last slot before the change out of it. */
  readonly arrivals: number;
  readonly departures: number;
  /** How often on each key, by MIDI number. */
  readonly keys: Tally;
}

/** One chord for as long as its palette lasts: the same chord again in the next bar goes on. */
export interface ChordCounts {
  readonly place: MapPlace;
  /** In the order of the palette, from its root; empty under `N.C.` */
  readonly tones: readonly ToneCounts[];
  /** Notes on no tone of the palette; under `N.C.` all. */
  readonly outside: number;
}

/** Intervals over the change into a chord, signed semitones: falling is negative. */
export interface ChangeCounts {
  readonly place: MapPlace;
  readonly intervals: Tally;
}

/** The first slot of a chord in one chorus of the form. */
export interface MapPlace {
  /** Bars count from 1 through the unrolled form, beats from 1. */
  readonly bar: number;
  readonly beat: number;
  /** The bar in which it ends. */
  readonly toBar: number;
}

export interface ChartMap {
  readonly chords: readonly ChordCounts[];
  /** The changes that have a chord before them whose palette differs. */
  readonly changes: readonly ChangeCounts[];
  /** How many runs there were of so many moves in one direction. */
  readonly runs: Tally;
  /** Where the direction changed. */
  readonly turns: number;
}

/** One slot of a line over a form, whoever played or wrote it. */
export interface MapNote {
  /** Index of the stretch of the form, from 0. */
  readonly stretch: number;
  readonly isOnBeat: boolean;
  /** Null: nothing was played, or it was not judged. */
  readonly midi: number | null;
}
