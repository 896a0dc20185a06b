import type { TakeEvent } from './model.ts';

/** Whether a key was struck at all; one struck with velocity 0 was let go (MIDI 1.0, "Note On"). */
export function hasNote(events: readonly TakeEvent[]): boolean {
  return events.some((event) => event.kind === 'noteOn' && event.velocity > 0);
}
