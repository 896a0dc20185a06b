/**
 * Makes clicks audible on the audio clock, and tells when they are heard on the page's performance clock. Clicks are
 * laid on the audio clock ahead of time, so that a blocked page does not make them late.
 */

import type { Click } from './click-times.ts';

/** Sounds are laid this far ahead; the page may be blocked for nearly as long. */
const AHEAD_MS = 400;
const WAKE_EVERY_MS = 50;
/** Between starting and the first click: time for the audio device to wake, and to tell how late it is heard. */
const LEAD_MS = 500;
const SETTLE_MS = 250;

export interface ClickPerformance {
  /** Performance time at which the first downbeat is heard. */
  readonly downbeatAtMs: number;
  stop(): void;
}

/** Starts clicking. The clicks must come in order; the first one sounds shortly after. */
export async function performClicks(clicks: Iterator<Click>): Promise<ClickPerformance> {
  const context = new AudioContext({ latencyHint: 'interactive' });
  await context.resume();
  const first = clicks.next();
  const firstMs = first.done ? 0 : first.value.atMs;
  const zeroAudioMs = context.currentTime * 1000 + LEAD_MS - firstMs;
  let next = first;

  function layAhead(): void {
    const untilMs = context.currentTime * 1000 + AHEAD_MS;
    while (!next.done && zeroAudioMs + next.value.atMs < untilMs) {
      sound(context, (zeroAudioMs + next.value.atMs) / 1000, next.value.accent);
      next = clicks.next();
    }
  }

  layAhead();
  const timer = setInterval(layAhead, WAKE_EVERY_MS);
  await new Promise((resolve) => setTimeout(resolve, SETTLE_MS));
  return {
    downbeatAtMs: heardAtMs(context, zeroAudioMs),
    stop() {
      clearInterval(timer);
      void context.close();
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

/** A short knock: two falling partials that die within 60 ms, higher and louder on the accent. Our own sound. */
function sound(context: AudioContext, at: number, accent: boolean): void {
  const loudness = context.createGain();
  loudness.gain.setValueAtTime(accent ? 0.5 : 0.32, at);
  loudness.gain.exponentialRampToValueAtTime(0.001, at + 0.06);
  loudness.connect(context.destination);
  for (const ratio of [1, 2.7]) {
    const partial = context.createOscillator();
    partial.frequency.setValueAtTime((accent ? 1050 : 780) * ratio, at);
    partial.frequency.exponentialRampToValueAtTime((accent ? 700 : 520) * ratio, at + 0.05);
    partial.connect(loudness);
    partial.start(at);
    partial.stop(at + 0.07);
  }
}
