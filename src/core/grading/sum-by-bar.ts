/** Slots and clean slots of each bar of the form, whatever the chorus. */

interface PlayedBar {
  readonly bar: number;
  readonly slots: number;
  readonly clean: number;
}

/** Sums bars that were played more than once, by their number, in the order they were first met. */
export function sumByBar(
  bars: Iterable<PlayedBar>,
): ReadonlyMap<number, { readonly slots: number; readonly clean: number }> {
  const sums = new Map<number, { slots: number; clean: number }>();
  for (const { bar, slots, clean } of bars) {
    const sum = sums.get(bar);
    if (sum === undefined) sums.set(bar, { slots, clean });
    else {
      sum.slots += slots;
      sum.clean += clean;
    }
  }
  return sums;
}
