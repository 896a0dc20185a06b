/** The melody of a chart: one voice over its written bars, kept beside the chart, whose text holds chords alone. */

/** A sounding note. Rests are what lies between. */
export interface MelodySound {
  /** Twelfths of a beat from the first downbeat of the first written bar; below 0 in the pickup. */
  readonly from: number;
  /** Twelfths of a beat, at least 1. It ends before the next one begins. */
  readonly length: number;
  /** Spelled, with its octave: `Eb4`. */
  readonly name: string;
}

/** What the chart was like in one written bar when the melody was written over it. */
export interface MelodyBar {
  /** `4/4`. */
  readonly meter: string;
  /** The pitch class of the chord's root on each beat, −1 where none sounds. */
  readonly roots: readonly number[];
}

export interface Melody {
  /** Twelfths of a beat before the first downbeat: the length of the pickup, 0 without one. */
  readonly leadIn: number;
  /** The signature it is written in: sharps, flats negative. */
  readonly fifths: number;
  readonly bars: readonly MelodyBar[];
  /** In order of time. */
  readonly sounds: readonly MelodySound[];
}
