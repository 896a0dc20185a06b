/** The two tones that tell a chord from its neighbours. */

import { type ChordSymbol, tonePc } from '../../theory/index.ts';

/** What stands in for a third or a seventh that a chord does not have. Common practice, no source. */
const THIRD_OR_INSTEAD = [3, 4, 2];
const SEVENTH_OR_INSTEAD = [7, 6];

/** Third and seventh of a chord (the fourth of a suspended one, the sixth of a sixth chord) as a pitch-class bit set. */
export function guideMask(symbol: ChordSymbol | null): number {
  if (symbol === null) return 0;
  return firstOf(symbol, THIRD_OR_INSTEAD) | firstOf(symbol, SEVENTH_OR_INSTEAD);
}

function firstOf({ root, tones }: ChordSymbol, degrees: readonly number[]): number {
  for (const degree of degrees) {
    const found = tones.filter((tone) => tone.degree === degree);
    if (found.length > 0) {
      return found.reduce((mask, { interval }) => mask | (1 << tonePc(root + interval)), 0);
    }
  }
  return 0;
}
