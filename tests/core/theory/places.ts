/** Chords where they stand, for tests. */

import { type Place, placeOf } from '../../../src/core/theory/choice/place.ts';
import { type ChordSymbol, parseKey } from '../../../src/core/theory/index.ts';
import { chord } from './symbols.ts';

/** `Dm7b5 G7 Cm7`: the second chord between its neighbours, and whatever comes after; `_` is none. */
export function placeIn(keyText: string, passage: string): Place {
  const key = parseKey(keyText);
  const [previous = null, symbol = null, ...after] = passage
    .split(' ')
    .map((word) => (word === '_' ? null : chord(word)));
  if (key === null || symbol === null) throw new Error(passage);
  const known = (chords: readonly (ChordSymbol | null)[]) => chords.filter((one) => one !== null);
  return placeOf({ symbol, key, before: known([previous]), after: known(after) });
}
