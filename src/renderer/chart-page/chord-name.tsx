/** A chord symbol as it is engraved: real accidentals, the quality raised, the bass after the slash. */

interface ChordParts {
  readonly root: string;
  readonly quality: string;
  readonly bass: string;
}

/** Splits a symbol's text for engraving; text that is no symbol (`N.C.`) is all root. */
export function chordParts(text: string): ChordParts {
  const match = /^([A-G][b#♭♯]?)(.*?)(\/[A-G][b#♭♯]?)?$/u.exec(text);
  if (match === null) return { root: text, quality: '', bass: '' };
  const [, root = '', quality = '', bass = ''] = match;
  return { root: withSigns(root), quality: withSigns(quality), bass: withSigns(bass) };
}

/** `Bb7b9` with the signs of print: a `b` or `#` is one after a letter or before a figure. */
function withSigns(text: string): string {
  return text
    .replace(/([A-G])b/gu, '$1♭')
    .replace(/([A-G])#/gu, '$1♯')
    .replace(/b(?=\d)/gu, '♭')
    .replace(/#(?=\d)/gu, '♯');
}

export function ChordName({ text }: { readonly text: string }) {
  const { root, quality, bass } = chordParts(text);
  return (
    <span>
      {root}
      {quality !== '' && <sup>{quality}</sup>}
      {bass}
    </span>
  );
}
