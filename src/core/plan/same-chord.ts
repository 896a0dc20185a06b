/** Whether two chords are one and the same to the ear, however they are written. */

import { type ChordSymbol, type Tone, tonePc } from '../theory/index.ts';

/** The same tones above the root: `m7` and `-7`, not `m7` and `m9`. */
export function hasSameQuality(one: ChordSymbol, other: ChordSymbol): boolean {
  const tones = ({ tones: own }: ChordSymbol) => own.map(({ interval }) => interval).join();
  return one.altered === other.altered && tones(one) === tones(other);
}

/** The same quality on the same root, C# and Db being one, over whatever bass. Null is `N.C.`, and like itself. */
export function isSameHarmony(one: ChordSymbol | null, other: ChordSymbol | null): boolean {
  if (one === null || other === null) return one === other;
  return hasSameQuality(one, other) && tonePc(one.root) === tonePc(other.root);
}

/** The same harmony over the same bass. */
export function isSameChord(one: ChordSymbol | null, other: ChordSymbol | null): boolean {
  const bassPc = (tone: Tone | null | undefined) => (tone == null ? null : tonePc(tone));
  return isSameHarmony(one, other) && bassPc(one?.bass) === bassPc(other?.bass);
}
