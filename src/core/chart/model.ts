/**
 * A chart as written, and the form it unrolls to. The written chart keeps repeats, endings and `%` as the musician
 * typed them; `unroll.ts` makes the unrolled passage that is played and graded. Comments and the layout of lines
 * are not part of a chart: reading drops them, writing lays the bars out afresh.
 */

import type { PaletteColour } from '../theory/choice/colour.ts';
import type { ChordSymbol } from '../theory/chord-symbol.ts';
import type { Key } from '../theory/key.ts';
import type { Palette } from '../theory/palette.ts';
import type { Jump } from './form-marks.ts';

/** A meter by its two figures as written: 12 and 8 for 12/8. How its bars are counted is in `meter.ts`. */
export interface Meter {
  readonly count: number;
  readonly unit: 2 | 4 | 8;
  /** How the eighths are grouped, of meters that beat in eighths (5/8, 7/8) alone; their sum is `count`. */
  readonly groups?: readonly number[];
}

/** A palette as the chart's writer named it: the text between `<` and `>`, trimmed, and what it was read as. */
export interface GivenPalette {
  readonly text: string;
  readonly palette: Palette;
}

/** One chord placed on beats of a written bar; `symbol` null is `N.C.`. */
export interface WrittenChord {
  /** First beat, from 1; 2.5 is the second half of beat 2. */
  readonly beat: number;
  /** Beats it lasts within its bar, in halves, at least one half. */
  readonly beats: number;
  readonly symbol: ChordSymbol | null;
  readonly given: GivenPalette | null;
}

/** What stands in a written bar: its own chords, or `%`. */
export type BarContent =
  | { readonly kind: 'chords'; readonly chords: readonly WrittenChord[] }
  | { readonly kind: 'same' };

export interface WrittenBar {
  readonly content: BarContent;
  /** Meter in force in this bar. */
  readonly meter: Meter;
  readonly repeatStart: boolean;
  readonly repeatEnd: boolean;
  /** The times through, from 1, for which the ending that begins with this bar is played; empty: none begins. */
  readonly endings: readonly number[];
  /** A double bar line follows. */
  readonly doubleAfter: boolean;
  /** A place to come to, before this bar: the segno, or the coda itself. */
  readonly startMark: StartMark | null;
  /** A place to leave from, after this bar. */
  readonly endMark: EndMark | null;
}

export type StartMark = 'segno' | 'coda';

/** `toCoda` is written `(coda)` too: the first of a chart is left for the second. */
export type EndMark =
  | { readonly kind: 'toCoda' }
  | { readonly kind: 'fine' }
  | { readonly kind: 'jump'; readonly jump: Jump };

export interface Section {
  /** The name in brackets, or null for bars before the first bracket. */
  readonly name: string | null;
  readonly bars: readonly WrittenBar[];
}

/**
 * A further plan over the same form: one content for each written bar of the chart, in order. Sections, repeats
 * and meters are the chart's own. `same` keeps the bar of `plain`.
 */
export interface WrittenPlan {
  readonly name: string;
  readonly bars: readonly BarContent[];
}

/** What sounds before bar 1 of the first chorus, whichever plan is played. */
export interface WrittenPickup {
  /** Its length in eighth notes: at least 1, less than bar 1. */
  readonly eighths: number;
  /**
   * The chords in it, on the beats of the short bar of whole beats that ends in the bar line; of a pickup that begins
   * within a beat the first one is shorter. Empty: it has none of its own.
   */
  readonly chords: readonly WrittenChord[];
}

export interface HeaderLine {
  readonly name: string;
  readonly value: string;
}

/** A chart as written. */
export interface Chart {
  readonly title: string;
  readonly key: Key;
  /** False when the chart names no key: then it is estimated from the chords. */
  readonly keyGiven: boolean;
  readonly meter: Meter;
  /** False when the chart names no meter: then it is 4/4. */
  readonly meterGiven: boolean;
  /** Beats of the meter's beat unit per minute, or null when the chart names none. */
  readonly tempoBpm: number | null;
  readonly pickup: WrittenPickup | null;
  /** Every other header line, known or not, in order: composer, note, and whatever else was written. */
  readonly headers: readonly HeaderLine[];
  /** The plan `plain`. */
  readonly sections: readonly Section[];
  readonly plans: readonly WrittenPlan[];
}

/** A palette the program or the chart chose for a chord, and why. */
export interface ChosenPalette {
  readonly palette: Palette;
  /** One line a player can read. */
  readonly reason: string;
  /** True when the chart named it, false when the program chose it. */
  readonly given: boolean;
}

/** A palette that would also serve, and how it sounds beside what the program would choose. */
export interface AlternativePalette extends ChosenPalette {
  readonly colour: PaletteColour;
}

/** One chord of the unrolled form. `symbol` null is `N.C.`: no palette, nothing there is outside. */
export interface FormChord {
  /** First beat in its bar, from 1; 2.5 is the second half of beat 2. */
  readonly beat: number;
  readonly beats: number;
  readonly symbol: ChordSymbol | null;
  readonly chosen: ChosenPalette | null;
  /** Ranked, best first; without the chosen one. Empty for `N.C.`. */
  readonly alternatives: readonly AlternativePalette[];
}

export interface FormBar {
  /** From 1, through the unrolled form. */
  readonly bar: number;
  readonly section: string | null;
  /** True where another section begins than that of the bar before, which may have the same name. */
  readonly beginsSection: boolean;
  readonly meter: Meter;
  readonly chords: readonly FormChord[];
}

/** The pickup as it is played. */
export interface FormPickup {
  /** Beats before bar 1, a whole number of eighths. */
  readonly beats: number;
  /** The short bar of whole beats around it, the meter that of bar 1. */
  readonly meter: Meter;
  /** Its own chords on the beats of that short bar; empty: the first chord of the form is in force. */
  readonly chords: readonly FormChord[];
}

/** One chorus, unrolled, of one plan: what is played and graded. */
export interface Form {
  readonly title: string;
  readonly key: Key;
  readonly plan: string;
  readonly meter: Meter;
  readonly tempoBpm: number | null;
  /** Played once, before the first chorus, and never graded. */
  readonly pickup: FormPickup | null;
  readonly bars: readonly FormBar[];
  /** The chord after the last bar where these are but some bars of a form; null: the first one, over again. */
  readonly next: FormChord | null;
}
