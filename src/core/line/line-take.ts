/** A written line as if it had been played exactly. */

import type { TakeEvent, TakeEvents } from '../take/model.ts';
import { plainTake } from '../take/sources.ts';
import type { WrittenLine } from './written-line.ts';

/** The events of a line at a steady tempo (beats per minute), each key up before the next goes down. */
export function takeOfLine({ notes, closing, beats }: WrittenLine, tempoBpm: number): TakeEvents {
  const beatMs = 60_000 / tempoBpm;
  const sounds = closing === null ? notes : [...notes, closing];
  const events = sounds.flatMap(({ midi, velocity, onsetBeats, durationBeats }): TakeEvent[] => {
    const atMs = onsetBeats * beatMs;
    const upMs = (onsetBeats + durationBeats) * beatMs;
    return [
      { kind: 'noteOn', atMs, midi, velocity },
      { kind: 'noteOff', atMs: upMs, midi },
    ];
  });
  const endBeats = closing === null ? beats : closing.onsetBeats + closing.durationBeats;
  return plainTake(events, endBeats * beatMs);
}
