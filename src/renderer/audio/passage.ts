/** A piece of a score, at another speed. Pure. */

import type { SoundEvent } from './sound-event.ts';

export interface Passage {
  readonly fromMs: number;
  /** Null: to the end. */
  readonly toMs: number | null;
  /** 1 is as written, 0.5 half as fast. Pitch stays. */
  readonly speed: number;
}

/** The sounds that begin within the passage, counted from its start. The score must be in order of time. */
export function* cutPassage(
  score: Iterable<SoundEvent>,
  { fromMs, toMs, speed }: Passage,
): Generator<SoundEvent> {
  for (const event of score) {
    if (event.atMs < fromMs) continue;
    if (toMs !== null && event.atMs >= toMs) return;
    const atMs = (event.atMs - fromMs) / speed;
    yield event.kind === 'click'
      ? { ...event, atMs }
      : { ...event, atMs, durationMs: event.durationMs / speed };
  }
}
