/** Why a drill cannot be written. Sentences are in `drill-sentences.ts`. */

import type { BlankProblem, BlockedPlace } from '../problems.ts';
import type { DrillStyle } from './drills.ts';

/** What stands in the way. */
export type DrillRule =
  /** The bars have no chord at all. */
  | 'noChord'
  /** No key the drill could use here lies in the register. */
  | 'register'
  /** The drill cannot begin on the key that was asked for. */
  | 'start'
  /** The register holds a single key of the palette. */
  | 'oneTone'
  /** The figure does not fit between the ends of the register. */
  | 'span'
  /** No tone of the chord is in its palette, whichever way the line moves. */
  | 'chordTone'
  /** No third or seventh of the chord, or what stands for them, is in its palette, whichever way the line moves. */
  | 'guideTone'
  /** The palette's rising and falling forms forbid every way on. */
  | 'direction';

/** The drill goes no further than this place. */
export interface DrillBlockedProblem extends BlockedPlace {
  readonly code: 'drill';
  readonly style: DrillStyle;
  readonly rule: DrillRule;
}

export type DrillProblem = BlankProblem | DrillBlockedProblem;
