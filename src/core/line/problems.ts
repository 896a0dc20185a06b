/** Why a line cannot be written. Sentences are in `sentences.ts`. */

export type WishField =
  | 'choruses'
  | 'swing'
  | 'register'
  | 'seed'
  | 'density'
  | 'direction'
  | 'startMidi'
  | 'afterMidi';

/** A part of the wish no chart could meet. */
export interface WishProblem {
  readonly code: 'wish';
  readonly field: WishField;
  readonly read: string;
}

/** The bars give nothing to play: an empty range was cut out of the form. */
export interface NoBarsProblem {
  readonly code: 'noBars';
}

/** More notes than a line may have. */
export interface TooLongProblem {
  readonly code: 'tooLong';
  readonly notes: number;
  readonly most: number;
}

/** The rule that stands in the way. */
export type BlockingRule =
  /** No key of the palette lies in the register. */
  | 'register'
  /** The key to begin on is not in the first palette. */
  | 'start'
  /** From the key to begin on, or the key before the line, no line leads past this place; from another one does. */
  | 'beginning'
  /** Every key in reach is the one just played, and a repeat is not open. */
  | 'repeat'
  /** No key of the palette is as near as the level asks. */
  | 'interval'
  /** The palette's rising and falling forms forbid every turn that is left. */
  | 'direction';

/** Where a line ends. Chorus, bar and beat count from 1, `sub` from 0. */
export interface BlockedPlace {
  readonly chorus: number;
  readonly bar: number;
  readonly beat: number;
  readonly sub: number;
  /** As written; `N.C.` where there is none. */
  readonly chord: string;
  readonly palette: string;
}

/** No clean line leads past this place, whatever was played before. */
export interface BlockedProblem extends BlockedPlace {
  readonly code: 'blocked';
  readonly rule: BlockingRule;
}

/** What can be told before any note is chosen. */
export type BlankProblem = WishProblem | NoBarsProblem | TooLongProblem;

export type LineProblem = BlankProblem | BlockedProblem;
