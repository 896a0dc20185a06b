/** When the click sounds. Pure: the stage only makes it audible. */

import { beatsPerBar, type Form } from '../../core/chart/index.ts';

export interface Click {
  /** From the first downbeat; negative in the count-in. */
  readonly atMs: number;
  readonly accent: boolean;
}

/**
 * The clicks of a performance from its count-in on, in order and without end when no choruses are given: one on every
 * beat, the first of each bar accented. The count-in is so many bars of the form's first meter.
 */
export function* clickTimes(
  form: Form,
  tempoBpm: number,
  choruses: number | null,
  countInBars: number,
): Generator<Click> {
  const beatMs = 60_000 / tempoBpm;
  const inBar = beatsPerBar(form.bars[0]?.meter ?? form.meter);
  for (let beat = -countInBars * inBar; beat < 0; beat++) {
    yield { atMs: beat * beatMs, accent: (beat + countInBars * inBar) % inBar === 0 };
  }
  let beat = 0;
  for (let chorus = 0; choruses === null || chorus < choruses; chorus++) {
    for (const { meter } of form.bars) {
      for (let count = 0; count < beatsPerBar(meter); count++) {
        yield { atMs: beat * beatMs, accent: count === 0 };
        beat++;
      }
    }
  }
}

/** Length of a performance without its count-in, ms; null when it has no end. */
export function lengthMs(form: Form, tempoBpm: number, choruses: number | null): number | null {
  if (choruses === null) return null;
  const beats = form.bars.reduce((sum, { meter }) => sum + beatsPerBar(meter), 0);
  return (choruses * beats * 60_000) / tempoBpm;
}
