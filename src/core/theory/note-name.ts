/** Names of keys with their octave: `C4`, `Bb3`, `F#5`. */

import { parseTone, STEP_LETTERS, toneAlter, toneLetter } from './tone.ts';

/** Semitones of the letters above C. */
const NATURAL_PCS = [0, 2, 4, 5, 7, 9, 11];

/**
 * The MIDI number of a key by name (`C4` = 60) or number (`60`); null for anything else or outside 0–127. The octave
 * counts by letter: `Cb5` is 71, `B#3` is 60.
 */
export function parseNoteName(text: string): number | null {
  if (/^\d{1,3}$/.test(text)) return inRange(Number(text));
  const [, name = '', octave] = /^(\D{1,3}?)(-?\d)$/u.exec(text) ?? [];
  const tone = parseTone(name);
  if (tone === null) return null;
  const natural = NATURAL_PCS[STEP_LETTERS.indexOf(toneLetter(tone))] ?? 0;
  return inRange(12 * (Number(octave) + 1) + natural + toneAlter(tone));
}

function inRange(midi: number): number | null {
  return midi >= 0 && midi <= 127 ? midi : null;
}
