/** Accidentals as they are printed. */

/** `Bb7b9` with the signs of print: a `b` or `#` is one after a letter or before a figure. */
export function withSigns(text: string): string {
  return text
    .replace(/([A-G])b/gu, '$1♭')
    .replace(/([A-G])#/gu, '$1♯')
    .replace(/b(?=\d)/gu, '♭')
    .replace(/#(?=\d)/gu, '♯');
}
