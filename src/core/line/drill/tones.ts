/** Keys of a set of pitch classes, counted from any key. */

import { hasPc, type PaletteView } from '../../grading/index.ts';
import type { Register } from '../wish.ts';

/** 1 up, −1 down. */
export type Direction = 1 | -1;

/**
 * The nth key of a set above a key (n > 0) or below it (n < 0); the key itself, in the set or not, is not counted.
 * Null where the set is empty. The answer may lie outside 0–127.
 */
export function toneFrom(mask: number, midi: number, n: number): number | null {
  if (mask === 0) return null;
  const direction = n > 0 ? 1 : -1;
  let left = Math.abs(n);
  let at = midi;
  while (left > 0) {
    at += direction;
    if (hasPc(mask, ((at % 12) + 12) % 12)) left--;
  }
  return at;
}

/** The keys of a set in a register, rising. */
export function keysIn(mask: number, { lowestMidi, highestMidi }: Register): readonly number[] {
  const keys: number[] = [];
  for (let midi = lowestMidi; midi <= highestMidi; midi++) {
    if (hasPc(mask, midi % 12)) keys.push(midi);
  }
  return keys;
}

export function isIn({ lowestMidi, highestMidi }: Register, midi: number | null): midi is number {
  return midi !== null && midi >= lowestMidi && midi <= highestMidi;
}

export function isTwoWay({ mask, certainMask }: PaletteView): boolean {
  return mask !== certainMask;
}

/**
 * The palette's nth tone from a key, taken from the form of the direction moved; where the palette is two-way, the same
 * in its other form after it, for a tone on which the line turns.
 */
export function paletteTones(palette: PaletteView, midi: number, n: number): readonly number[] {
  const { rising, falling } = palette;
  const forms = n > 0 ? [rising, falling] : [falling, rising];
  const tones = (isTwoWay(palette) ? forms : forms.slice(0, 1)).flatMap(
    ({ mask }) => toneFrom(mask, midi, n) ?? [],
  );
  return [...new Set(tones)];
}
