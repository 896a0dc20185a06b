/** What each note of a drill stands over. */

import type { Form } from '../../chart/index.ts';
import type { PaletteView } from '../../grading/index.ts';
import type { LineEntry } from '../legal/entries.ts';
import { guideMask } from '../taste/guide-tones.ts';

/** The chord a drill is played over: the one in force, under `N.C.` the one heard last. */
export interface DrillChord {
  readonly palette: PaletteView;
  /** Tones of the chord and its guide tones that lie in the palette in both directions; bit sets, 0: none. */
  readonly chordMask: number;
  readonly guideMask: number;
}

export interface DrillPlace extends DrillChord {
  readonly entry: LineEntry;
  /** Whether a bar or a chord begins here. */
  readonly opens: boolean;
}

/**
 * The places of a drill, one for each entry; null when the form has no chord. Under `N.C.` the chord heard last goes on,
 * before the first chord that one: own rule, as nothing is outside there and a drill has no rests.
 */
export function drillPlaces(
  form: Form,
  entries: readonly LineEntry[],
): readonly DrillPlace[] | null {
  const chords = form.bars.flatMap((bar) => bar.chords);
  const ownChord = ({ chord, ordinal }: LineEntry): DrillChord | null => {
    const { palette, chordMask } = chord;
    if (palette === null) return null;
    const guides = guideMask(chords[ordinal % chords.length]?.symbol ?? null);
    const { certainMask } = palette;
    return { palette, chordMask: chordMask & certainMask, guideMask: guides & certainMask };
  };
  const own = entries.map(ownChord);
  let heard = own.find((chord) => chord !== null) ?? null;
  if (heard === null) return null;
  const places: DrillPlace[] = [];
  for (const [index, entry] of entries.entries()) {
    heard = own[index] ?? heard;
    const beginsChord = entries[index - 1]?.ordinal !== entry.ordinal;
    const beginsBar = entry.place.beat === 1 && entry.place.sub === 0;
    places.push({ ...heard, entry, opens: beginsChord || beginsBar });
  }
  return places;
}
