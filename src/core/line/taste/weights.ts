/**
 * The weights of everything a line is chosen by once it is clean and shows its changes. A cost is a natural logarithm: what
 * costs 1 more is chosen e times more seldom, all else being equal. The sizes were set so that lines of the style `solo` come
 * near the figures of improvised lines (`docs/line-figures.md`), those of `teaching` from common practice, without a source.
 */

import { LINE_SHAPES } from '../shapes.ts';
import type { LineStyle } from '../wish.ts';

/** A weight at the named points of the shape dial: scales, scales and arpeggios, arpeggios, wide shapes. */
type Dial = readonly [scales: number, mixed: number, arpeggios: number, wide: number];

/** By the size of the move into a note, beside what the interval itself costs in solos. */
const STEP: Dial = [0, 0, 1.7, 1.7];
const THIRD: Dial = [2.2, -0.3, 0, 0.3];
const WIDE: Dial = [3.5, -1, -0.6, -2.5];
/** On top of that: a line that lands on thirds and sevenths leaps to them by itself. */
const WIDE_IN_STYLE: Readonly<Record<LineStyle, number>> = { solo: -0.13, teaching: 0.05 };
/** Off for a third or wider move from chord tone to chord tone: an arpeggio. */
const ARPEGGIO: Dial = [0, 0.1, 0.8, 0.3];

export interface Weights {
  readonly step: number;
  readonly third: number;
  readonly wide: number;
  /** More for a wide move up: solos sink through their phrases and begin anew, a line without a break has to rise again. */
  readonly wideUp: number;
  /** For each semitone beyond an octave. */
  readonly semitoneBeyondOctave: number;
  /** Off for a third or wider move from chord tone to chord tone: an arpeggio. */
  readonly arpeggio: number;
  /** A step or third that turns after a step or third, and more after two and more moves one way, or while a leap is filled. */
  readonly turn: number;
  readonly turnInRun: number;
  /** A wide move that is not followed by a step or third the other way. */
  readonly leapNotTurned: number;
  /** A repeated key, and more after another. */
  readonly repeat: number;
  readonly repeatAgain: number;
  /** Back to the key before last by more than a step, and to it once more after such a return. */
  readonly return: number;
  readonly returnAgain: number;
  /** A beat without a chord tone: by how strong the beat is. */
  readonly chordTone: number;
  /** A chord that does not begin on its third or seventh. */
  readonly guideTone: number;
  /** At the edge of the register, falling with the square towards its wandering middle. */
  readonly edge: number;
  /** A note outside its palette, and more where it stands on a beat; off where it ends an enclosure. */
  readonly outside: number;
  readonly outsideOnBeat: number;
  readonly enclosure: number;
  /** An interval that takes the line-up allowance. */
  readonly lineUp: number;
  /** Under `N.C.`, a note outside the palette heard last. */
  readonly foreign: number;
  /** Off for a note that moves as the same note of the cell before did, where a cell is to be an echo. */
  readonly echo: number;
  /** The last note of a cell or bar that would make it equal to the cell before, or to an earlier bar of the chorus. */
  readonly sameCell: number;
  readonly sameBar: number;
}

/** What the two styles have in common. */
const COMMON = {
  semitoneBeyondOctave: 1,
  wideUp: 0.7,
  turnInRun: 0.8,
  leapNotTurned: 2.4,
  repeatAgain: 3,
  return: 0.7,
  returnAgain: 1.5,
  edge: 0.9,
  lineUp: 1.5,
  foreign: 3,
  echo: 4,
  sameCell: 3,
  sameBar: 8,
};

const STYLES = {
  solo: {
    ...{ turn: 0.6, chordTone: 0.15, guideTone: 0, repeat: 1.1 },
    ...{ outside: 0.7, outsideOnBeat: 0.6, enclosure: 0.8 },
  },
  teaching: {
    ...{ turn: 0.9, chordTone: 2, guideTone: 3.5, repeat: 2 },
    ...{ outside: 2, outsideOnBeat: 2, enclosure: 1 },
  },
} as const;

/** The weights of a style at a place of the shape dial, 0 to 1. */
export function weightsAt(style: LineStyle, density: number): Weights {
  const at = (dial: Dial): number => onDial(dial, density);
  return {
    ...COMMON,
    ...STYLES[style],
    ...{
      step: at(STEP),
      third: at(THIRD),
      wide: at(WIDE) + WIDE_IN_STYLE[style],
      arpeggio: at(ARPEGGIO),
    },
  };
}

function onDial(dial: Dial, density: number): number {
  const place = density * (LINE_SHAPES.length - 1);
  const below = Math.min(Math.floor(place), LINE_SHAPES.length - 2);
  const [from = 0, to = 0] = dial.slice(below, below + 2);
  return from + (to - from) * (place - below);
}
