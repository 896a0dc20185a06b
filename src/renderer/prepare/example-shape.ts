/** In which keys example lines move. Used under the example and in runs. */

import { z } from '../../../shared/schema.ts';
import { RIGHT_HAND_REGISTER } from '../../core/line/index.ts';

/** A piano's lowest and highest key. */
export const PIANO_KEYS = { lowestMidi: 21, highestMidi: 108 } as const;

const pianoKey = z.int().min(PIANO_KEYS.lowestMidi).max(PIANO_KEYS.highestMidi);

/** A register as it is remembered; one that cannot be read is the right hand's. */
export const registerSchema = z
  .object({ lowestMidi: pianoKey, highestMidi: pianoKey })
  .refine(({ lowestMidi, highestMidi }) => lowestMidi <= highestMidi)
  .catch(RIGHT_HAND_REGISTER);
