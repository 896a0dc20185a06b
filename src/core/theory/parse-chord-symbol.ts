/**
 * The grammar of chord symbols, by hand: root, then words from `chord-words.data.ts` in any sensible order, some of
 * them in parentheses, then a slash and a bass note.
 */

import { failure, type Outcome, success } from '../problem.ts';
import { chordFamily, chordTones } from './chord-parts.ts';
import type { ChordSymbol } from './chord-symbol.ts';
import { plainSigns } from './plain-signs.ts';
import { isFault, type QualityFault, readQuality } from './read-quality.ts';
import { suggestSymbol } from './suggest-symbol.ts';
import { EXPECTED, MAX_SYMBOL_LENGTH, type SymbolProblem } from './symbol-problem.ts';
import { parseTone, type Tone } from './tone.ts';

/**
 * Reads a chord symbol in the spellings musicians write. In: the text, white space around it allowed. Out: the symbol
 * with its tones, or one problem at the first part that was not understood, with a suggestion that reads.
 * Edges: a letter takes all accidentals that follow it (`Cb5` is a bare fifth on Cb; write `C(b5)`), and `-` or `+`
 * straight after the root is minor or augmented (`C-9` is Cm9), after a number flat or sharp (`C7-9` is C7b9).
 * Two chords over one another are a problem (`polychord`). Common practice, no source; there is no one standard.
 */
export function parseChordSymbol(text: string): Outcome<ChordSymbol, SymbolProblem> {
  const result = readSymbol(text);
  if (!isFault(result)) return success(result);
  const start = text.length - text.trimStart().length;
  const suggestion = suggestSymbol(text.trim(), result.offset - start, isReadable);
  return failure({ ...result, suggestion });
}

function isReadable(text: string): boolean {
  return !isFault(readSymbol(text));
}

/** The root of a symbol and how many UTF-16 code units spell it; null when it does not begin with a note name. */
export function readRoot(text: string): { readonly root: Tone; readonly length: number } | null {
  const match = /^[A-G](?:bb|b|##|#|x)?/.exec(text);
  const root = match === null ? null : parseTone(match[0]);
  return match === null || root === null ? null : { root, length: match[0].length };
}

function readSymbol(given: string): ChordSymbol | QualityFault {
  const text = given.trim();
  const start = given.length - given.trimStart().length;
  const fault = (code: SymbolProblem['code'], offset: number, expected: string): QualityFault => ({
    code,
    offset: start + offset,
    read: text.slice(offset, offset + MAX_SYMBOL_LENGTH),
    expected,
  });
  if (text === '') return fault('empty', 0, EXPECTED.symbol);
  if (text.length > MAX_SYMBOL_LENGTH) return fault('tooLong', 0, EXPECTED.short);
  const plain = plainSigns(text);
  const head = readRoot(plain);
  if (head === null) return fault('root', 0, EXPECTED.root);
  const slash = bassSlash(plain, head.length);
  const quality = readQuality(plain, head.length, slash ?? plain.length);
  if (isFault(quality)) {
    const { offset, read } = quality;
    return { ...quality, offset: start + offset, read: text.slice(offset, offset + read.length) };
  }
  const bass = slash === null ? null : parseTone(plain.slice(slash + 1));
  if (slash !== null && bass === null) {
    const isNote = readRoot(plain.slice(slash + 1)) !== null;
    return isNote
      ? fault('polychord', slash + 1, EXPECTED.polychord)
      : fault('bass', slash + 1, EXPECTED.bass);
  }
  const tones = chordTones(quality);
  const family = chordFamily(quality, tones);
  return { text, root: head.root, bass, family, tones, altered: quality.altered };
}

/**
 * Where the slash of the bass stands, or null. A slash before a digit or an alteration separates parts of the quality
 * (6/9, 7/b9); so does one before maj or M with a number (m/maj7).
 */
function bassSlash(plain: string, from: number): number | null {
  for (let at = plain.indexOf('/', from); at !== -1; at = plain.indexOf('/', at + 1)) {
    if (!/^\/(?:[b#+-]?\d|maj|ma|Maj|M|add|sus|no|omit|alt|Δ)/.test(plain.slice(at, at + 6)))
      return at;
  }
  return null;
}
