/** Chords where they stand, for tests. */

import { type Place, placeOf } from '../../../src/core/theory/choice/place.ts';
import { parseKey } from '../../../src/core/theory/index.ts';
import { chord } from './symbols.ts';

/** `Dm7b5 G7 Cm7`: the chord in the middle between its neighbours; `_` is none. */
export function placeIn(keyText: string, passage: string): Place {
  const key = parseKey(keyText);
  const [previous, symbol, next] = passage
    .split(' ')
    .map((word) => (word === '_' ? null : chord(word)));
  if (key === null || symbol === null || symbol === undefined) throw new Error(passage);
  return placeOf({ symbol, key, previous: previous ?? null, next: next ?? null });
}
