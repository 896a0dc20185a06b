/** An octave of keys to choose a palette by; a chosen key is down. */

import './palette.css';
import { withSigns } from '../look/signs.ts';

/** Pitch classes of the white and black keys, with how many white keys lie to the left. */
const KEYS = [
  { pc: 0, left: 0, black: false },
  { pc: 1, left: 1, black: true },
  { pc: 2, left: 1, black: false },
  { pc: 3, left: 2, black: true },
  { pc: 4, left: 2, black: false },
  { pc: 5, left: 3, black: false },
  { pc: 6, left: 4, black: true },
  { pc: 7, left: 4, black: false },
  { pc: 8, left: 5, black: true },
  { pc: 9, left: 5, black: false },
  { pc: 10, left: 6, black: true },
  { pc: 11, left: 6, black: false },
];

interface PaletteKeysProps {
  readonly chosen: ReadonlySet<number>;
  /** The name of each pitch class as the chord spells it. */
  readonly nameOf: (pc: number) => string;
  readonly onToggle: (pc: number) => void;
}

export function PaletteKeys({ chosen, nameOf, onToggle }: PaletteKeysProps) {
  return (
    <fieldset className="palette-keys">
      <legend className="hidden-words">Notes of the palette</legend>
      {KEYS.map(({ pc, left, black }) => (
        <button
          key={pc}
          type="button"
          className={`${black ? 'key black' : 'key white'} at-${left}`}
          aria-pressed={chosen.has(pc)}
          onClick={() => onToggle(pc)}
        >
          {withSigns(nameOf(pc))}
        </button>
      ))}
    </fieldset>
  );
}
