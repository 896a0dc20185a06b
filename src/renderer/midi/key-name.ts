/** The name of a key of the piano where no chord says how to spell it. */

import { parseKey, spellMidi } from '../../core/theory/index.ts';

const C_MAJOR = parseKey('C');

/** `C4` for 60, `Eb4` for 63: the spellings of C major. */
export function keyName(midi: number): string {
  return C_MAJOR === null
    ? String(midi)
    : spellMidi(midi, { palette: null, symbol: null, key: C_MAJOR });
}
