/** Keys as a chart or a player may name them, with the nearest one for a slip. */

import { nearestWordAnyCase } from '../nearest-word.ts';
import { failure, type Outcome, success } from '../problem.ts';
import { formatKey, type Key, keyFifths, parseKey } from '../theory/key.ts';

export interface KeyProblem {
  readonly code: 'unknownKey';
  readonly read: string;
  readonly expected: string;
  readonly suggestion: string | null;
}

/** Most sharps or flats of a written signature. Common practice, no source. */
const MAX_FIFTHS = 7;

/**
 * Reads a key such as `Bb`, `F#m`, `C minor`; its signature must have at most seven sharps or flats.
 * Problem: `unknownKey`, for `G#` with `Ab` as the suggestion.
 */
export function parseKeyText(text: string): Outcome<Key, KeyProblem> {
  const key = parseKey(text);
  if (key === null) return failure(unknownKey(text, 'a key such as Bb or F#m', nearestKey(text)));
  if (isWritable(key)) return success(key);
  const expected = 'a key with at most seven sharps or flats';
  return failure(unknownKey(text, expected, formatKey(respelled(key))));
}

function unknownKey(read: string, expected: string, suggestion: string | null): KeyProblem {
  return { code: 'unknownKey', read, expected, suggestion };
}

function isWritable(key: Key): boolean {
  return Math.abs(keyFifths(key)) <= MAX_FIFTHS;
}

/** The same key under its other name, with fewer sharps or flats. */
function respelled(key: Key): Key {
  return { ...key, tonic: key.tonic + (keyFifths(key) > 0 ? -12 : 12) };
}

/** A minor key has the signature of the major key three fifths below. */
const MINOR_FIFTHS = 3;

const KEY_NAMES: readonly string[] = Array.from(
  { length: 2 * MAX_FIFTHS + 1 },
  (_, index) => index - MAX_FIFTHS,
).flatMap((fifths) => [
  formatKey({ tonic: fifths, mode: 'major' }),
  formatKey({ tonic: fifths + MINOR_FIFTHS, mode: 'minor' }),
]);

/** A key whose text differs in letter case or white space only, or by one letter in a longer word. */
function nearestKey(text: string): string | null {
  const compact = text.slice(0, 40).replace(/\s/gu, '');
  const fixed = compact.charAt(0).toUpperCase() + compact.slice(1).toLowerCase();
  const key = parseKey(fixed);
  if (key !== null && isWritable(key)) return formatKey(key);
  return fixed.length > 2 ? nearestWordAnyCase(fixed, KEY_NAMES) : null;
}
