/** Roots under the name a reader expects. */

import type { ChordSymbol } from './chord-symbol.ts';
import { type Key, keyFifths } from './key.ts';
import { type Interval, type Tone, toneAlter } from './tone.ts';

/** On the line of fifths: from Cb down and from E# up a root is a white key, from D# up its chords may need double sharps. */
const C_FLAT: Tone = -7;
const E_SHARP: Tone = 11;
const D_SHARP: Tone = 9;
/** The same pitch under the next name. */
const ENHARMONIC: Interval = 12;

/**
 * What to add to a root with one accidental or none to make it plain: 0, or 12 either way. E# and B#, Cb and Fb give way to
 * F, C, B and E unless the key's signature has them and the chord has no double accidental (E#m7b5 in F# stays, E#7 is F7);
 * D# and A# do where two of the chord's tones have one (A#maj7 is Bbmaj7, A#m7 and A#7 stay). Common practice, no source.
 */
export function plainShift(
  { root, tones }: Pick<ChordSymbol, 'root' | 'tones'>,
  key: Key,
): Interval {
  const doubles = tones.filter(({ interval }) => Math.abs(toneAlter(root + interval)) > 1).length;
  const fifths = keyFifths(key);
  const isOfKey = root >= fifths - 1 && root <= fifths + 5 && doubles === 0;
  if (root <= C_FLAT) return isOfKey ? 0 : ENHARMONIC;
  if (root >= E_SHARP) return isOfKey ? 0 : -ENHARMONIC;
  return root >= D_SHARP && doubles > 1 ? -ENHARMONIC : 0;
}
