/** The nearest spelling of a chord symbol that was not understood. */

import { nearestWord } from '../nearest-word.ts';
import { COMMON_PARTS, COMMON_QUALITIES } from './chord-spellings.data.ts';
import { plainSigns } from './plain-signs.ts';
import { MAX_SYMBOL_LENGTH } from './symbol-problem.ts';

/**
 * A symbol near the given one that `isReadable`, or null. Slips with one sure cure come first, then the spelling with
 * the fewest single-character edits that keeps what was understood, or a common quality; at most two fifths of what
 * was written may change, or one character. In: the trimmed text and the offset in it of the part not understood.
 * Source of the limit: own rule.
 */
export function suggestSymbol(
  text: string,
  offset: number,
  isReadable: (text: string) => boolean,
): string | null {
  if (text.length > MAX_SYMBOL_LENGTH) return null;
  const plain = plainSigns(text);
  const cured = CURES.map((cure) => cure(plain, offset));
  // The symbol itself was not readable: trying it again for every cure that changes nothing would cost time alone.
  const sure = cured.find((cure) => cure !== plain && isReadable(cure));
  return sure ?? nearestSymbol(plain, offset, isReadable);
}

/** Slips with one sure cure, each as a function from the symbol and the place of its fault to the mended symbol. */
const CURES: readonly ((plain: string, offset: number) => string)[] = [
  // c7, bb7
  (plain) => plain.charAt(0).toUpperCase() + plain.slice(1),
  // Eflat7, F sharp m7, Fis, Bes
  (plain) => plain.replace(/^([A-G]) ?(?:sharp|is) ?(?=[^a-z]|m|$)/, '$1#'),
  (plain) => plain.replace(/^([A-G]) ?(?:flat|es) ?(?=[^a-z]|m|$)/, '$1b'),
  // H is B where German names are used
  (plain) => plain.replace(/^[Hh]/, 'B'),
  (plain) => plain.replace(/\/[Hh]$/, '/B'),
  // C7 (b9)
  (plain) => plain.replaceAll(' ', ''),
  // C7(b9, C7()
  (plain) => `${plain})`,
  (plain) => plain.replace(/\( *\)/, ''),
  // C/e
  (plain) => plain.replace(/\/[a-g](?=[b#]?$)/, (slash) => slash.toUpperCase()),
  // C-5, C+11, Cm+7, Ch7, C4
  (plain) => plain.replace(/^([A-G][b#]?)-5/, '$1(b5)'),
  (plain) => plain.replace(/^([A-G][b#]?)\+11/, '$17#11'),
  (plain) => plain.replace(/^([A-G][b#]?(?:m|min|mi|-))\+7/, '$1(maj7)'),
  (plain) => plain.replace(/^([A-G][b#]?)h(?=7|$)/, '$1ø'),
  (plain) => plain.replace(/^([A-G][b#]?)4/, '$1sus4'),
  // Ab#9
  (plain) => plain.replace(/^([A-G](?:bb|b|##|#)?)([b#]\d+)/, '$1($2)'),
  // D/C7, C|D: the first chord alone
  (plain, offset) =>
    /[/|\\]/.test(plain.slice(Math.max(0, offset - 1), offset + 1))
      ? plain.slice(0, offset).replace(/\/$/, '')
      : plain,
];

function nearestSymbol(
  plain: string,
  offset: number,
  isReadable: (text: string) => boolean,
): string | null {
  const root = /^[A-G](?:bb|b|##|#|x)?/.exec(plain)?.[0];
  if (root === undefined) return null;
  const bass = /\/[A-G](?:bb|b|##|#|x)?$/.exec(plain)?.[0] ?? '';
  const quality = plain.slice(root.length, plain.length - bass.length);
  const understood = plain.slice(root.length, Math.max(root.length, offset));
  const candidates = [...COMMON_PARTS.map((part) => understood + part), ...COMMON_QUALITIES];
  const near = nearestWord(quality, candidates, undefined, (candidate) =>
    isReadable(root + candidate + bass),
  );
  return near === null ? null : root + near + bass;
}
