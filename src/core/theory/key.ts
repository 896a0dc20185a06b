/** Keys: a tonic and a mode, read and written as musicians do (`Bb`, `F#m`). */

import { formatTone, parseTone, type Tone } from './tone.ts';

export interface Key {
  readonly tonic: Tone;
  readonly mode: 'major' | 'minor';
}

const KEY_TEXT = /^([A-G][b♭#♯]?)\s*(?:major|maj|(minor|min|m|-))?$/u;

/** Reads `Bb`, `F#m`, `C minor`, `A♭ major`, `Ebmin`; null for anything else. */
export function parseKey(text: string): Key | null {
  const [, name = '', minor] = KEY_TEXT.exec(text.trim()) ?? [];
  const tonic = parseTone(name);
  return tonic === null ? null : { tonic, mode: minor === undefined ? 'major' : 'minor' };
}

/** Writes `Bb` for a major key, `F#m` for a minor one; the inverse of `parseKey`. */
export function formatKey(key: Key): string {
  return formatTone(key.tonic) + (key.mode === 'minor' ? 'm' : '');
}

/** Sharps (positive) or flats (negative) of the key signature; a minor key has its relative major's. */
export function keyFifths(key: Key): number {
  return key.mode === 'minor' ? key.tonic - 3 : key.tonic;
}
