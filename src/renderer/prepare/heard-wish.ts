/** What is heard before each take of a run, as the choice has it. */

import { type LineStyle, type Register, SHAPE_DENSITIES } from '../../core/line/index.ts';
import type { HeardFirst, PracticeChoice } from './practice-choice.ts';

/** An example chorus, and what is to be done with it. */
export interface HeardWish {
  readonly purpose: Exclude<HeardFirst, 'nothing'>;
  readonly register: Register;
  readonly style: LineStyle;
  /** 0 to 1, as a line is written with. */
  readonly density: number;
}

/** Null: only the count-in. */
export function heardWishOf({
  heardFirst,
  exampleRegister,
  exampleStyle,
  exampleShape,
}: PracticeChoice): HeardWish | null {
  if (heardFirst === 'nothing') return null;
  return {
    purpose: heardFirst,
    register: exampleRegister,
    style: exampleStyle,
    density: SHAPE_DENSITIES[exampleShape],
  };
}
