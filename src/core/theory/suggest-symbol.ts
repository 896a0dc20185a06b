/** The nearest spelling of a chord symbol that was not understood. */

import { COMMON_PARTS, COMMON_QUALITIES } from './chord-spellings.data.ts';
import { nearestWord } from './nearest-word.ts';
import { plainSigns } from './plain-signs.ts';
import { MAX_SYMBOL_LENGTH } from './symbol-problem.ts';

/**
 * A symbol near the given one that `isReadable`, or null. First come slips with one sure cure (a lower-case root, a
 * space, an open parenthesis, a lower-case bass note), then the common quality with the fewest single-character edits,
 * at most two fifths of what was written, or one.
 * In: the trimmed text and the offset in it of the part that was not understood. Source of the limit: own rule.
 */
export function suggestSymbol(
  text: string,
  offset: number,
  isReadable: (text: string) => boolean,
): string | null {
  if (text === '' || text.length > MAX_SYMBOL_LENGTH) return null;
  const plain = plainSigns(text);
  const sure = sureCures(plain, offset).find((cure) => cure !== text && isReadable(cure));
  return sure ?? nearest(plain, offset, isReadable);
}

function sureCures(plain: string, offset: number): readonly string[] {
  const upperRoot = plain.charAt(0).toUpperCase() + plain.slice(1);
  const spelledOut = upperRoot.replace(
    /^([A-G])[ -]?(?:flat|sharp|is|s|es)(?=\W|\d|m|$)/i,
    (whole, letter) => `${letter}${/sharp|is/i.test(whole) ? '#' : 'b'}`,
  );
  const german = plain.replace(/^[Hh]/, 'B');
  return [
    upperRoot,
    spelledOut,
    german,
    plain.replace(/ +/g, ''),
    plain.replace(/ +(?![^(]*\))/g, ''),
    `${plain})`,
    plain.replace(/\(\s*\)/g, ''),
    plain.replace(/\/([a-g])/, (_, letter: string) => `/${letter.toUpperCase()}`),
    plain.replace(/\/[Hh]/, '/B'),
    plain.replace(/^([A-G][b#]*)-5/, '$1(b5)'),
    plain.replace(/^([A-G][b#]*(?:m|min|mi|-))\+(?=7|9)/, '$1maj'),
    plain.replace(/^([A-G][b#]*)h(?=7|$)/, '$1ø'),
    plain.replace(/^([A-G][b#]*)4/, '$1sus4'),
    plain.slice(0, offset).replace(/\/[A-G]?$/, ''),
  ].filter((cure, index) => index < 13 || isPolychord(plain, offset, cure));
}

/** Of two chords over one another the upper one with a bass note remains; it is tried only after a slash. */
function isPolychord(plain: string, offset: number, cure: string): boolean {
  return plain[offset - 1] === '/' && cure !== '';
}

function nearest(
  plain: string,
  offset: number,
  isReadable: (text: string) => boolean,
): string | null {
  const root = /^[A-G](?:bb|b|##|#|x)?/.exec(plain)?.[0];
  if (root === undefined) return null;
  const slash = /\/[A-G](?:bb|b|##|#)?$/.exec(plain);
  const bass = slash?.[0] ?? '';
  const quality = plain.slice(root.length, plain.length - bass.length);
  const kept = plain.slice(root.length, Math.max(root.length, offset));
  const candidates = [...COMMON_QUALITIES, ...COMMON_PARTS.map((part) => kept + part)];
  const word = nearestWord(quality, candidates, undefined, (candidate) =>
    isReadable(root + candidate + bass),
  );
  return word === null ? null : root + word + bass;
}
