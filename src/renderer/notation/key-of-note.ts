/** Note names as the engraving library VexFlow 5.0.0 wants them. Pure. */

/** `Eb4` as `eb/4`; the library's accidentals are `b`, `bb`, `#`, `##` too. */
export function engravedKey(name: string): string {
  const match = /^([A-G])(b{0,2}|#{0,2})(-?\d+)$/u.exec(name);
  if (match === null) return 'b/4';
  const [, letter = 'B', accidental = '', octave = '4'] = match;
  return `${letter.toLowerCase()}${accidental}/${octave}`;
}

const LETTERS = 'CDEFGAB';

/** Names without octaves, each above the one before, the first at or above an octave's C. */
export function risingNames(notes: readonly string[], octave: number): readonly string[] {
  let place = -1;
  let at = octave;
  return notes.map((note) => {
    const letter = LETTERS.indexOf(note[0] ?? 'C');
    if (letter <= place) at++;
    place = letter;
    return `${note}${at}`;
  });
}
