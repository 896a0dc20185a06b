/** A written line as sounds on a beat clock. Pure. */

import type { BeatClock } from '../../core/grid/index.ts';
import type { WrittenLine } from '../../core/line/index.ts';
import type { SoundEvent } from './sound-event.ts';

/** Its closing note included. */
export function lineScore(
  { notes, closing }: WrittenLine,
  clock: BeatClock,
): readonly SoundEvent[] {
  return (closing === null ? notes : [...notes, closing]).map(
    ({ midi, velocity, onsetBeats, durationBeats }) => {
      const atMs = clock.timeMs(onsetBeats);
      return {
        kind: 'note',
        atMs,
        midi,
        velocity,
        durationMs: clock.timeMs(onsetBeats + durationBeats) - atMs,
      };
    },
  );
}
