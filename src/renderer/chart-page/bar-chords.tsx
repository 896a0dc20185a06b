/** The chords of a bar over their beats. */

import { type FormChord, NO_CHORD } from '../../core/chart/index.ts';
import { paletteName } from '../../core/theory/index.ts';
import { withSigns } from '../look/signs.ts';
import { ChordName } from './chord-name.tsx';

interface BarChordsProps {
  readonly chords: readonly FormChord[];
  readonly showPalettes: boolean;
}

export function BarChords({ chords, showPalettes }: BarChordsProps) {
  return (
    <div className="bar-chords">
      {chords.map(({ beat, symbol, chosen }) => (
        <div key={beat}>
          <ChordName text={symbol?.text ?? NO_CHORD} />
          {showPalettes && chosen !== null && (
            <div className="bar-palette" title={chosen.reason}>
              {withSigns(paletteName(chosen.palette))}
            </div>
          )}
        </div>
      ))}
    </div>
  );
}
