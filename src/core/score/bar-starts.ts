/** Where the bars of a form begin. */

import { beatsPerBar, type Form, type FormBar } from '../chart/index.ts';

export interface BarStart {
  /** Beats of the chorus before the bar. */
  readonly beat: number;
  readonly bar: FormBar;
}

export interface BarStarts {
  /** In order, by the number of the bar. */
  readonly bars: ReadonlyMap<number, BarStart>;
  /** Beats of a chorus. */
  readonly beats: number;
}

export function barStarts(form: Form): BarStarts {
  const bars = new Map<number, BarStart>();
  let beats = 0;
  for (const bar of form.bars) {
    bars.set(bar.bar, { beat: beats, bar });
    beats += beatsPerBar(bar.meter);
  }
  return { bars, beats };
}
