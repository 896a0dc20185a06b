/**
 * Performs a score on the audio clock, and tells when it is heard on the page's performance clock. Sounds are laid on
 * the audio clock ahead of time, so that a blocked page does not make them late.
 */

import type { SoundEvent, Volumes } from './sound-event.ts';
import { createVoices } from './voices.ts';

/** Sounds are laid this far ahead; the page may be blocked for nearly as long. */
const AHEAD_MS = 400;
const WAKE_EVERY_MS = 50;
/** Between starting and the first sound: time for the audio device to wake, and to tell how late it is heard. */
const LEAD_MS = 500;
const SETTLE_MS = 250;

/** Where sounds can go beside the computer's own output: a MIDI instrument. */
export interface MidiSink {
  /** Plays a sound at a time of the performance clock. */
  play(event: SoundEvent, atPerformanceMs: number): void;
  /** Ends whatever sounds. */
  silence(): void;
}

export interface Performance {
  /** Performance time at which the score's zero, the first downbeat, is heard. */
  readonly downbeatAtMs: number;
  /** What the system says its sound is late by, ms; already in `downbeatAtMs`. */
  readonly outputLatencyMs: number;
  stop(): void;
}

export interface StageSettings {
  readonly volumes: Volumes;
  /** The instrument that sounds in place of the computer, or null. */
  readonly midi: MidiSink | null;
  /** When the last sound of the score has been laid and has ended. */
  readonly onEnd?: () => void;
}

/** Starts a score whose sounds come in order; the first one sounds shortly after. */
export async function perform(
  score: Iterator<SoundEvent>,
  settings: StageSettings,
): Promise<Performance> {
  const context = new AudioContext({ latencyHint: 'interactive' });
  await context.resume();
  const voices = createVoices(context, settings.volumes);
  let next = score.next();
  const firstMs = next.done === true ? 0 : Math.min(0, next.value.atMs);
  const zeroAudioMs = context.currentTime * 1000 + LEAD_MS - firstMs;
  let endMs = 0;

  function lay(event: SoundEvent): void {
    endMs = Math.max(endMs, event.atMs + (event.kind === 'click' ? 0 : event.durationMs));
    const audioMs = zeroAudioMs + event.atMs;
    if (settings.midi === null) voices.lay(event, audioMs / 1000);
    else settings.midi.play(event, heardAtMs(context, audioMs));
  }

  function layAhead(): void {
    const nowMs = context.currentTime * 1000;
    while (next.done !== true && zeroAudioMs + next.value.atMs < nowMs + AHEAD_MS) {
      lay(next.value);
      next = score.next();
    }
    if (next.done === true && nowMs > zeroAudioMs + endMs) {
      clearInterval(timer);
      settings.onEnd?.();
    }
  }

  const timer = setInterval(layAhead, WAKE_EVERY_MS);
  layAhead();
  await new Promise((resolve) => setTimeout(resolve, SETTLE_MS));
  return {
    downbeatAtMs: heardAtMs(context, zeroAudioMs),
    outputLatencyMs: (context.outputLatency || context.baseLatency || 0) * 1000,
    stop() {
      clearInterval(timer);
      settings.midi?.silence();
      if (context.state !== 'closed') void context.close();
    },
  };
}

/** When a moment of the audio clock is heard, on the performance clock. Source: Web Audio API, getOutputTimestamp. */
function heardAtMs(context: AudioContext, audioMs: number): number {
  const { contextTime = 0, performanceTime = 0 } = context.getOutputTimestamp();
  // Before the first sound is out some browsers answer zero: then the latencies they report must do.
  if (contextTime > 0 && performanceTime > 0) return performanceTime + audioMs - contextTime * 1000;
  const latencyMs = (context.outputLatency || context.baseLatency || 0) * 1000;
  return performance.now() + audioMs - context.currentTime * 1000 + latencyMs;
}

/** A performance that could not be started, in words. */
export function soundFailureWords(error: unknown): string {
  const why = error instanceof Error ? error.message : String(error);
  return `The sound could not be started (${why}). Check the computer’s sound output and start again.`;
}
