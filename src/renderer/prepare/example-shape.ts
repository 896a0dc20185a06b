/** What example lines are like: how widely they move, and in which keys. Used under the example and in runs. */

import { z } from '../../../shared/schema.ts';
import { RIGHT_HAND_REGISTER } from '../../core/line/index.ts';

export const EXAMPLE_SHAPES = ['scales', 'scalesAndArpeggios', 'arpeggios', 'wide'] as const;
export type ExampleShape = (typeof EXAMPLE_SHAPES)[number];

/** The density a line is written with. */
export const DENSITIES: Readonly<Record<ExampleShape, number>> = {
  scales: 0,
  scalesAndArpeggios: 0.25,
  arpeggios: 0.5,
  wide: 1,
};

/** Mostly scales: a line that can be remembered and answered. Common practice, no source. */
export const USUAL_SHAPE: ExampleShape = 'scalesAndArpeggios';

/** A piano's lowest and highest key. */
export const PIANO_KEYS = { lowestMidi: 21, highestMidi: 108 } as const;

const pianoKey = z.int().min(PIANO_KEYS.lowestMidi).max(PIANO_KEYS.highestMidi);

/** A register as it is remembered; one that cannot be read is the right hand's. */
export const registerSchema = z
  .object({ lowestMidi: pianoKey, highestMidi: pianoKey })
  .refine(({ lowestMidi, highestMidi }) => lowestMidi <= highestMidi)
  .catch(RIGHT_HAND_REGISTER);
