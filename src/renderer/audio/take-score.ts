/** A take as sounds, to be heard again. Pure. */

import { createKeyHold } from '../../core/take/durations.ts';
import type { TakeEvent, TakeEvents } from '../../core/take/model.ts';
import { gradedSources, type SourceOverrides, sourceOf } from '../../core/take/sources.ts';
import type { SoundEvent } from './sound-event.ts';

/**
 * The notes of a take in order of time, latency taken off. A key held down by the pedal of its keyboard sounds until that
 * pedal is up; what still sounds at the end ends there.
 */
export function takeScore(take: TakeEvents, overrides: SourceOverrides): readonly SoundEvent[] {
  const sources = gradedSources(take.sources, overrides);
  const perSource = sources.map((source) => {
    const events = take.events.filter((event) => sourceOf(event, sources) === source);
    return keyboardScore(events, take.endMs, source.latencyMs);
  });
  const [first = []] = perSource;
  return perSource.length < 2
    ? first
    : perSource.flat().sort((one, other) => one.atMs - other.atMs);
}

/** The notes of one keyboard. */
function keyboardScore(
  events: readonly TakeEvent[],
  endMs: number,
  lateMs: number,
): readonly SoundEvent[] {
  const hold = createKeyHold();
  const notes: { atMs: number; midi: number; velocity: number; id: number }[] = [];
  for (const event of events) {
    if (event.kind === 'noteOn' && event.velocity > 0) {
      const { midi, velocity, atMs } = event;
      notes.push({ atMs, midi, velocity, id: hold.down(midi, atMs) });
    } else if (event.kind === 'noteOn' || event.kind === 'noteOff') {
      hold.up(event.midi, event.atMs);
    } else if (event.kind === 'allOff') hold.allUp(event.atMs);
  }
  const pedalUps = pedalEnds(events, endMs);
  return notes.map(({ atMs, midi, velocity, id }) => {
    const upMs = atMs + hold.durationMs(id, endMs);
    const held = pedalUps.find(({ fromMs, toMs }) => fromMs <= upMs && upMs < toMs);
    const durationMs = Math.max(0, (held?.toMs ?? upMs) - atMs);
    return { kind: 'note', atMs: atMs - lateMs, midi, velocity, durationMs };
  });
}

/** Spans in which the pedal is down. A keyboard that is gone has none. */
function pedalEnds(
  events: readonly TakeEvent[],
  endMs: number,
): readonly { readonly fromMs: number; readonly toMs: number }[] {
  const spans: { fromMs: number; toMs: number }[] = [];
  let downMs: number | null = null;
  for (const event of events) {
    const isGone = event.kind === 'allOff' && event.cause === 'disconnect';
    if (event.kind === 'pedal' && event.down) downMs ??= event.atMs;
    else if ((event.kind === 'pedal' || isGone) && downMs !== null) {
      spans.push({ fromMs: downMs, toMs: event.atMs });
      downMs = null;
    }
  }
  if (downMs !== null) spans.push({ fromMs: downMs, toMs: endMs });
  return spans;
}
