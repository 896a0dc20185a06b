/** A chord symbol as it is engraved: real accidentals, the quality raised, the bass after the slash. */

import { withSigns } from '../look/signs.ts';

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
