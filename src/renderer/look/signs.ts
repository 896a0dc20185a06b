/** Accidentals as they are printed. */

/** What may follow the root of a chord in small letters; anything else makes a word of it, as in `Ebbing`. */
const QUALITY = 'm|mi|min|ma|maj|dim|aug|sus|add|alt|o|omit|no';

/** A root or the name of a note with its accidental. */
const NAME = new RegExp(`(?<![A-Za-z])([A-G])(bb?|##?)(?=$|[^a-z]|(?:${QUALITY})(?![a-z]))`, 'gu');

/** `Bb7b9`, also within a sentence, with the signs of print: a `b` or `#` is one after the letter of a note or before a figure. */
export function withSigns(text: string): string {
  return text
    .replace(NAME, (_name, letter: string, signs: string) => letter + printed(signs))
    .replace(/[b#]+(?=\d)/gu, printed);
}

function printed(signs: string): string {
  return signs.replaceAll('b', '♭').replaceAll('#', '♯');
}
