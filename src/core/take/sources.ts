/** The keyboards of a take. Source of the rules: `grading.md`, "Time and grid", sources. */

import type { TakeEvent, TakeEvents, TakeSource } from './model.ts';

/** A keyboard that nothing is known of: nothing is taken off, all its keys are the line's. */
export const UNKNOWN_SOURCE: TakeSource = { name: '', latencyMs: 0, splitMidi: null };

/** Settings that hold for every keyboard, in the place of its own; absent: each keeps its own. */
export interface SourceOverrides {
  readonly latencyMs?: number;
  readonly splitMidi?: number | null;
}

/** The sources of a take as it is graded: at least one. */
export function gradedSources(
  sources: readonly TakeSource[],
  { latencyMs, splitMidi }: SourceOverrides,
): readonly TakeSource[] {
  const known = sources.length === 0 ? [UNKNOWN_SOURCE] : sources;
  return known.map((source) => ({
    name: source.name,
    latencyMs: latencyMs ?? source.latencyMs,
    splitMidi: splitMidi === undefined ? source.splitMidi : splitMidi,
  }));
}

/** The source of an event among `gradedSources`; the first for an index that none has. */
export function sourceOf(event: TakeEvent, sources: readonly TakeSource[]): TakeSource {
  return sources[event.source ?? 0] ?? sources[0] ?? UNKNOWN_SOURCE;
}

/** A take of one keyboard that nothing is known of, without a break. */
export function plainTake(events: readonly TakeEvent[], endMs: number): TakeEvents {
  return { events, endMs, sources: [], breaks: [] };
}
