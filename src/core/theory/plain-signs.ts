/** Text with musical and typographic signs turned into plain ones of the same length, so that offsets still hold. */

import { PLAIN_SIGNS } from './chord-words.data.ts';

/** Replaces each known sign (`♭` by `b`, `△` by `Δ`); the length in UTF-16 code units stays the same. */
export function plainSigns(text: string): string {
  let plain = '';
  for (const sign of text) plain += PLAIN_SIGNS.get(sign) ?? sign;
  return plain;
}
