/** Keys: a tonic and a mode, read and written as musicians do (`Bb`, `F#m`). */

import { formatTone, parseTone, type Tone } from './tone.ts';

export interface Key {
  readonly tonic: Tone;
  readonly mode: 'major' | 'minor';
}

/** Reads `Bb`, `F#m`, `C minor`, `A♭ major`, `Ebmin`; null for anything else. */
export function parseKey(text: string): Key | null {
  const match = /^([A-G][b♭#♯]?)\s*(major|maj|minor|min|m|-)?$/u.exec(text.trim());
  if (!match) return null;
  const tonic = parseTone(match[1] ?? '');
  if (tonic === null) return null;
  const minor = ['minor', 'min', 'm', '-'].includes(match[2] ?? '');
  return { tonic, mode: minor ? 'minor' : 'major' };
}

/** Writes `Bb` for a major key, `F#m` for a minor one; the inverse of `parseKey`. */
export function formatKey(key: Key): string {
  return formatTone(key.tonic) + (key.mode === 'minor' ? 'm' : '');
}

/** Sharps (positive) or flats (negative) of the key signature; a minor key has its relative major's. */
export function keyFifths(key: Key): number {
  return key.mode === 'minor' ? key.tonic - 3 : key.tonic;
}
