/** In which order the written bars of a chart are played. */

import type { WrittenBar } from './model.ts';

/**
 * The written bars in the order they are played, as indices from 0: `|: A |1 B :|2 C |` gives 0 1 0 2. A repeat
 * without endings is played twice, one with endings once for each. In: bars whose repeats are sound, as every parsed chart's are.
 */
export function playOrder(
  bars: readonly Pick<WrittenBar, 'repeatStart' | 'repeatEnd' | 'ending'>[],
): readonly number[] {
  const order: number[] = [];
  let bodyStart = 0;
  let bodyEnd: number | null = null;
  for (const [index, bar] of bars.entries()) {
    if (bar.repeatStart) {
      bodyStart = index;
      bodyEnd = null;
    }
    if (bar.ending === 1) bodyEnd = index;
    order.push(index);
    if (!bar.repeatEnd) continue;
    for (let again = bodyStart; again < (bodyEnd ?? index + 1); again++) order.push(again);
  }
  return order;
}
