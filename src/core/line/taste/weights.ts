/**
 * The weights of everything a line is chosen by once it is clean and shows its changes. One unit is about what one note
 * off a chord on a strong beat costs. The aims are common practice of teaching lines; no source gives them as numbers, so
 * they were set by looking at the lines and their figures (`docs/line-figures.md`).
 */

/** A weight at the three marks of the density dial: plain scales, arpeggios, wide shapes. */
type Dial = readonly [plain: number, arpeggios: number, wide: number];

/** Size of the move into a note. */
const STEP: Dial = [0, 0.5, 0.9];
const THIRD: Dial = [1.4, 0.3, 0.7];
const WIDE: Dial = [2.6, 1.6, 0.3];
/** For each semitone of a wide move beyond a fourth, and more for each beyond an octave. */
const SEMITONE_BEYOND_FOURTH: Dial = [0.3, 0.2, 0.06];
const SEMITONE_BEYOND_OCTAVE: Dial = [0.6, 0.6, 0.6];
/** Off for a third or wider move from chord tone to chord tone: an arpeggio. */
const ARPEGGIO: Dial = [0, 0.7, 0.3];
/** A leap followed by a step or third the other way costs nothing; by these, something. */
const LEAP_NOT_TURNED: Dial = [1.2, 0.9, 0.8];
const LEAP_AFTER_LEAP: Dial = [1.6, 1, 0.7];
const REPEAT: Dial = [2.5, 2, 1.6];

export interface Weights {
  readonly step: number;
  readonly third: number;
  readonly wide: number;
  readonly semitoneBeyondFourth: number;
  readonly semitoneBeyondOctave: number;
  readonly arpeggio: number;
  readonly leapNotTurned: number;
  readonly leapAfterLeap: number;
  readonly repeat: number;
  /** A turn after a run of 1, 2, … moves; later ones cost nothing. */
  readonly turnAfter: readonly number[];
  /** A turn that makes a short run as long as the one before: a see-saw, or the same figure again. */
  readonly sameRunAgain: number;
  /** Each move that goes on after the longest run that is counted. */
  readonly longRun: number;
  /** A strong beat without a chord tone. */
  readonly chordTone: number;
  /** Off for a third or seventh where a chord begins. */
  readonly guideTone: number;
  /** At the edge of the register, falling with the square towards its wandering middle. */
  readonly edge: number;
  /** A note outside the palette, and a third that takes the line-up allowance. */
  readonly outside: number;
  readonly lineUp: number;
  /** Under `N.C.`, a note outside the palette heard last. */
  readonly foreign: number;
  /** Widest chance cost of a key at a place, and of a turn at a place. */
  readonly keyNoise: number;
  readonly turnNoise: number;
}

/** The weights at a place of the dial, 0 to 1; between the marks they change evenly. */
export function weightsAt(density: number): Weights {
  const at = (dial: Dial): number => onDial(dial, density);
  return {
    step: at(STEP),
    third: at(THIRD),
    wide: at(WIDE),
    semitoneBeyondFourth: at(SEMITONE_BEYOND_FOURTH),
    semitoneBeyondOctave: at(SEMITONE_BEYOND_OCTAVE),
    arpeggio: at(ARPEGGIO),
    leapNotTurned: at(LEAP_NOT_TURNED),
    leapAfterLeap: at(LEAP_AFTER_LEAP),
    repeat: at(REPEAT),
    turnAfter: [1.3, 0.5, 0.2, 0.05],
    sameRunAgain: 0.7,
    longRun: 0.45,
    chordTone: 0.9,
    guideTone: 0.6,
    edge: 1.1,
    outside: 1.5,
    lineUp: 0.8,
    foreign: 1.5,
    keyNoise: 0.7,
    turnNoise: 0.9,
  };
}

function onDial([plain, arpeggios, wide]: Dial, density: number): number {
  const share = density * 2;
  return share <= 1
    ? plain + (arpeggios - plain) * share
    : arpeggios + (wide - arpeggios) * (share - 1);
}
