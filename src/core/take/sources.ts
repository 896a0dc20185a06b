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

/**
 * Events in the order of their times with the latency of their source taken off; those of one such time stay as they came. The
 * list itself where all sources are as late.
 */
export function inCorrectedOrder(
  events: readonly TakeEvent[],
  sources: readonly TakeSource[],
): readonly TakeEvent[] {
  if (sources.every(({ latencyMs }) => latencyMs === sources[0]?.latencyMs)) return events;
  return events
    .map((event) => ({ event, playedMs: event.atMs - sourceOf(event, sources).latencyMs }))
    .sort((one, other) => one.playedMs - other.playedMs)
    .map(({ event }) => event);
}

/** A take of one keyboard that nothing is known of, without a break. */
export function plainTake(events: readonly TakeEvent[], endMs: number): TakeEvents {
  return { events, endMs, sources: [], breaks: [] };
}
