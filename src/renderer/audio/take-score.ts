/** A take as sounds, to be heard again. Pure. */

import { createKeyHold } from '../../core/take/durations.ts';
import type { TakeEvents } from '../../core/take/model.ts';
import { gradedSources, type SourceOverrides, sourceOf } from '../../core/take/sources.ts';
import type { SoundEvent } from './sound-event.ts';

/**
 * The notes of a take in order of time, latency taken off. A key held down by the pedal sounds until the pedal is up;
 * what still sounds at the end ends there.
 */
export function takeScore(take: TakeEvents, overrides: SourceOverrides): readonly SoundEvent[] {
  const { events, endMs } = take;
  const sources = gradedSources(take.sources, overrides);
  const hold = createKeyHold();
  const notes: { atMs: number; midi: number; velocity: number; id: number; lateMs: number }[] = [];
  for (const event of events) {
    if (event.kind === 'noteOn' && event.velocity > 0) {
      const { midi, velocity, atMs } = event;
      const { latencyMs: lateMs } = sourceOf(event, sources);
      notes.push({ atMs, midi, velocity, lateMs, id: hold.down(midi, atMs) });
    } else if (event.kind === 'noteOn' || event.kind === 'noteOff') {
      hold.up(event.midi, event.atMs);
    } else if (event.kind === 'allOff') hold.allUp(event.atMs);
  }
  const pedalUps = pedalEnds(take);
  return notes.map(({ atMs, midi, velocity, id, lateMs }) => {
    const upMs = atMs + hold.durationMs(id, endMs);
    const held = pedalUps.find(({ fromMs, toMs }) => fromMs <= upMs && upMs < toMs);
    const durationMs = Math.max(0, (held?.toMs ?? upMs) - atMs);
    return { kind: 'note', atMs: atMs - lateMs, midi, velocity, durationMs };
  });
}

function pedalEnds({
  events,
  endMs,
}: TakeEvents): readonly { readonly fromMs: number; readonly toMs: number }[] {
  const spans: { fromMs: number; toMs: number }[] = [];
  let downMs: number | null = null;
  for (const event of events) {
    if (event.kind !== 'pedal') continue;
    if (event.down) downMs ??= event.atMs;
    else if (downMs !== null) {
      spans.push({ fromMs: downMs, toMs: event.atMs });
      downMs = null;
    }
  }
  if (downMs !== null) spans.push({ fromMs: downMs, toMs: endMs });
  return spans;
}
