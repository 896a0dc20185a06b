/** From page time to the time that is heard, and back. Pure: readings of both clocks come in as numbers. */

export type { Reading } from './reading.ts';
export {
  type ClockNews,
  createSoundClock,
  type HeardSpan,
  type SoundClock,
} from './sound-clock.ts';
