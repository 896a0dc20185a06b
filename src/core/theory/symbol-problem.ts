/** What can be wrong with a chord symbol, and the sentences that say what could stand there. */

export type SymbolProblemCode =
  | 'empty'
  | 'tooLong'
  | 'root'
  | 'quality'
  | 'parenthesis'
  | 'space'
  | 'bass'
  | 'polychord';

/**
 * A problem in a chord symbol. `offset` counts from 0 in the text as given, in UTF-16 code units; `read` is the part
 * that was not understood; `suggestion` is a whole symbol that reads, or null when nothing is near.
 */
export interface SymbolProblem {
  readonly code: SymbolProblemCode;
  readonly offset: number;
  readonly read: string;
  readonly expected: string;
  readonly suggestion: string | null;
}

/** Longest symbol that is read, in UTF-16 code units; the longest in use have about 25. Own rule. */
export const MAX_SYMBOL_LENGTH = 48;

/** What could stand at each kind of place. */
export const EXPECTED = {
  symbol: 'a chord symbol such as Cmaj7, F#m7b5 or Bb7/D',
  short: `at most ${MAX_SYMBOL_LENGTH} characters`,
  root: 'a root from A to G, with b or # if needed',
  quality: 'a quality such as maj7, m7, 7, dim7, sus4 or 6/9, or a slash and a bass note',
  later: 'an extension or alteration such as 9, b9, #11, b13, sus4, add9 or no3',
  afterMajor: '7, 9, 11 or 13 after the maj of a minor, diminished or augmented chord',
  afterDominant: '7, 9, 11 or 13 after dom',
  alt: 'alt alone or after 7, without further alterations',
  once: 'each alteration, addition or omission once',
  closing: 'a closing parenthesis',
  opening: 'an opening parenthesis before this one',
  inside: 'something inside the parentheses, such as b9 or add9',
  noSpace: 'no space outside parentheses',
  bass: 'a bass note from A to G after the slash',
  polychord: 'one bass note after the slash; two chords at once cannot be read',
} as const;
