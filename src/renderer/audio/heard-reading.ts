/** Reads page time and the time heard together from an audio context. */

import type { Reading } from '../clock/index.ts';

/** A reading that took longer was interrupted, and is thrown away. */
const WIDEST_MS = 1;
/** A pair this old, and the same as before, is of a sound that stands still. Devices ask for sound more often than that. */
const STILL_MS = 60;
/** So many answers of zero in a row, and the browser is taken to have no other. Before the first sound is out all answer it. */
const ZEROS_BELIEVED = 5;

/** What the system says its sound is late by, ms. */
export function outputLatencyMs({ outputLatency, baseLatency }: AudioContext): number {
  return (outputLatency || baseLatency || 0) * 1000;
}

/** What it answers reads once; null where there is nothing new to be known. Source: W3C, Web Audio API 1.0, 2021, `getOutputTimestamp`. */
export function createHeardReader(context: AudioContext): () => Reading | null {
  let zeros = 0;
  let lastContextTime: number | null = null;

  /** From the place in the score of samples, where the time of output is not told. */
  function estimated(pageMs: number, currentMs: number): Reading | null {
    zeros++;
    if (zeros < ZEROS_BELIEVED) return null;
    return { pageMs, heardMs: currentMs - outputLatencyMs(context) };
  }

  return () => {
    const beforeMs = performance.now();
    const { contextTime = 0, performanceTime = 0 } = context.getOutputTimestamp();
    const currentMs = context.currentTime * 1000;
    const nowMs = performance.now();
    if (nowMs - beforeMs > WIDEST_MS) return null;
    if (contextTime <= 0 || performanceTime <= 0) return estimated(nowMs, currentMs);
    zeros = 0;
    const isSame = contextTime === lastContextTime;
    lastContextTime = contextTime;
    const heardMs = contextTime * 1000;
    if (!isSame) return { pageMs: performanceTime, heardMs };
    return nowMs - performanceTime > STILL_MS ? { pageMs: nowMs, heardMs } : null;
  };
}
