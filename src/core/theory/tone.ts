/**
 * A spelled pitch class on the line of fifths: … Bb −2, F −1, C 0, G 1, D 2 … Each sharp adds 7, each flat
 * takes 7 away, so a letter, its accidental, an interval and a transposition are all one integer, and going up
 * and back by an interval restores the spelling by plain addition.
 * The line of fifths: common practice, no source; values are checked against tables of keys and intervals in tests.
 */

/** A spelled pitch class: its place on the line of fifths, C = 0. */
export type Tone = number;

/** A spelled interval: the difference of two tones on the line of fifths (perfect fifth = 1). */
export type Interval = number;

const LETTERS = ['F', 'C', 'G', 'D', 'A', 'E', 'B'] as const;

/** Natural letters in fifths order start at F = −1. */
const LETTER_OFFSET = 1;

/** The seven letters in scale order from C, for counting steps. */
export const STEP_LETTERS = ['C', 'D', 'E', 'F', 'G', 'A', 'B'] as const;
export type Letter = (typeof STEP_LETTERS)[number];

/** Spelled intervals above a root, by the name musicians use; value on the line of fifths. */
export const INTERVALS = {
  P1: 0,
  m2: -5,
  M2: 2,
  A2: 9,
  m3: -3,
  M3: 4,
  d4: -8,
  P4: -1,
  A4: 6,
  d5: -6,
  P5: 1,
  A5: 8,
  m6: -4,
  M6: 3,
  d7: -9,
  m7: -2,
  M7: 5,
} as const;
export type IntervalName = keyof typeof INTERVALS;

function modulo(value: number, base: number): number {
  return ((value % base) + base) % base;
}

/** The pitch class 0–11 (C = 0) of a tone. */
export function tonePc(tone: Tone): number {
  return modulo(tone * 7, 12);
}

/** Semitones from one tone up to another, 0–11. */
export function semitonesUp(from: Tone, to: Tone): number {
  return modulo(tonePc(to) - tonePc(from), 12);
}

/** The letter of a tone, without its accidental. */
export function toneLetter(tone: Tone): Letter {
  return LETTERS[modulo(tone + LETTER_OFFSET, 7)] as Letter;
}

/** The accidental of a tone in semitones: −1 flat, 1 sharp, 0 natural. */
export function toneAlter(tone: Tone): number {
  return Math.floor((tone + LETTER_OFFSET) / 7);
}

/** A tone as plain ASCII text: `F#`, `Bb`, `Ebb`, `C`. */
export function formatTone(tone: Tone): string {
  const alter = toneAlter(tone);
  return toneLetter(tone) + (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter));
}

/** The tone of a letter and an accidental in semitones. */
export function makeTone(letter: Letter, alter: number): Tone {
  return LETTERS.indexOf(letter) - LETTER_OFFSET + 7 * alter;
}

const TONE_TEXT = /^([A-G])(bb|b|##|#|x|♭♭|♭|♯♯|♯|𝄫|𝄪)?$/u;
const ACCIDENTALS = new Map<string, number>([
  ['bb', -2],
  ['♭♭', -2],
  ['𝄫', -2],
  ['b', -1],
  ['♭', -1],
  ['#', 1],
  ['♯', 1],
  ['##', 2],
  ['♯♯', 2],
  ['x', 2],
  ['𝄪', 2],
]);

/** Reads `C`, `F#`, `B♭`, `Ebb`, `Fx`; null for anything else. Letters are capital, as in chart text. */
export function parseTone(text: string): Tone | null {
  const match = TONE_TEXT.exec(text);
  if (!match) return null;
  const alter = match[2] === undefined ? 0 : (ACCIDENTALS.get(match[2]) ?? 0);
  return makeTone(match[1] as Letter, alter);
}

/**
 * The same pitch respelled with no more than one accidental, for roots a reader should not meet as `Bbb`;
 * tones that already have one or none come back unchanged.
 */
export function simplifyTone(tone: Tone): Tone {
  if (toneAlter(tone) < -1) return tone + 12;
  if (toneAlter(tone) > 1) return tone - 12;
  return tone;
}
