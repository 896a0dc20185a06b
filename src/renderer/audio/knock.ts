/** The click's own sound, as samples: two falling partials that die away within 60 ms. Pure. */

import type { ClickStrength } from './sound-event.ts';

const LENGTH_S = 0.06;
/** Pitch at the start and at the end, and loudness. Our own sound. */
const SHAPES: Readonly<Record<ClickStrength, { fromHz: number; toHz: number; gain: number }>> = {
  accent: { fromHz: 1050, toHz: 700, gain: 0.5 },
  beat: { fromHz: 780, toHz: 520, gain: 0.32 },
  sub: { fromHz: 1240, toHz: 980, gain: 0.12 },
};

/** The samples of one click at a rate, within −1 to 1. The first is its loudest: where it lies, the click is. */
export function knock(strength: ClickStrength, sampleRate: number): Float32Array<ArrayBuffer> {
  const { fromHz, toHz, gain } = SHAPES[strength];
  const samples = new Float32Array(Math.round(LENGTH_S * sampleRate));
  let phase = 0;
  for (let index = 0; index < samples.length; index++) {
    const share = index / samples.length;
    const hz = fromHz * (toHz / fromHz) ** share;
    samples[index] = gain * 500 ** -share * (0.7 * Math.cos(phase) + 0.3 * Math.cos(2.7 * phase));
    phase += (2 * Math.PI * hz) / sampleRate;
  }
  return samples;
}
