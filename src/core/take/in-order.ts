/** Events in order of time, as grading needs them. */

import type { TakeEvent } from './model.ts';

/**
 * The events in order of time; those of one time stay as they came. Two keyboards deliver a little out of step, and a
 * journal keeps what came as it came. The list itself when it is in order already, as nearly all are.
 */
export function inOrderOfTime(events: readonly TakeEvent[]): readonly TakeEvent[] {
  const isInOrder = events.every(({ atMs }, index) => atMs >= (events[index - 1]?.atMs ?? atMs));
  return isInOrder ? events : [...events].sort((one, other) => one.atMs - other.atMs);
}
