/** The palette: the pitch classes open to the line while one chord lasts. */

import { formatTone, type Tone, tonePc } from './tone.ts';

/** Tones ordered upwards from the palette's root, spelled and as pitch classes; both arrays are parallel. */
export interface PaletteTones {
  /** Names such as `Eb`, ordered rising from the root. */
  readonly notes: readonly string[];
  /** Pitch classes 0–11, C = 0, parallel to `notes`. */
  readonly pcs: readonly number[];
}

/**
 * One palette. `notes` and `pcs` are the (rising) form; `falling` is there only for a two-way palette such as
 * the classical melodic minor, whose degrees differ on the way down. `root` is the tone the order starts from;
 * it need not be the chord's root (`F melodic minor` over another chord).
 */
export interface Palette extends PaletteTones {
  /** What a musician calls it, without the root: `dorian`, `phrygian dominant`; a custom set is `notes`. */
  readonly name: string;
  readonly root: string;
  readonly falling: PaletteTones | null;
}

/** Spells tones as palette tones, in the order given. */
export function paletteTones(tones: readonly Tone[]): PaletteTones {
  return { notes: tones.map(formatTone), pcs: tones.map(tonePc) };
}

/** The name of a palette that is a set of notes and no scale. */
export const NOTES_NAME = 'notes';

/** What a palette is called: its root and its name, or its notes when they are no scale. */
export function paletteName({ name, root, notes }: Palette): string {
  return name === NOTES_NAME ? notes.join(' ') : `${root} ${name}`;
}

/** Every pitch class of the palette in either direction, as a bit set: bit 0 = C … bit 11 = B. */
export function paletteMask(palette: Palette): number {
  return pcMask(palette.pcs) | (palette.falling ? pcMask(palette.falling.pcs) : 0);
}

/** Pitch classes as a bit set: bit 0 = C … bit 11 = B. */
export function pcMask(pcs: readonly number[]): number {
  let mask = 0;
  for (const pc of pcs) mask |= 1 << pc;
  return mask;
}
