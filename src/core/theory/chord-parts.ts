/** What a chord symbol says, part by part, and the tones that follow from it. */

import type { ChordFamily, ChordTone } from './chord-symbol.ts';
import { type Head, SIX_NINE } from './chord-words.data.ts';
import { type Degree, degreeInterval } from './degree.ts';

/** A symbol's parts as read. `extension` 0 is a triad; `head` null is a bare root or a bare number. */
export interface ChordParts {
  readonly head: Head | null;
  /** A maj, M or triangle: the seventh is major. */
  readonly majorSeventh: boolean;
  readonly extension: number;
  /** Degrees that take the third's place: 2, 4 or both. */
  readonly suspended: readonly number[];
  readonly alterations: readonly Degree[];
  readonly additions: readonly Degree[];
  readonly omissions: readonly number[];
  readonly altered: boolean;
}

export const NO_PARTS: ChordParts = {
  head: null,
  majorSeventh: false,
  extension: 0,
  suspended: [],
  alterations: [],
  additions: [],
  omissions: [],
  altered: false,
};

/**
 * The tones of a chord, ascending by degree, the lower of two forms first (b9 before #9).
 * - 11 chords hold 1 3 5 7 9 11 (as the dominant-11th of MusicXML); a thirteenth leaves the eleventh out unless the
 *   third is minor or the symbol names it: common practice, because it rubs against a major third.
 * - `alt` holds 1 3 b7. Its b9 #9 b5 #5 are a colour the player chooses from, so they are no tones of the chord: they
 *   come with the palette. Common practice, no source; there is no standard list.
 * - An altered degree replaces the plain one: 13b9 has no natural ninth. 7b5#5 has both fifths and no perfect one.
 * - A b9 on a suspended triad brings the seventh with it (susb9 is 7susb9): common practice.
 */
export function chordTones(parts: ChordParts): readonly ChordTone[] {
  const altered = new Set(parts.alterations.map(({ degree }) => degree));
  const plain = plainDegrees(parts).filter(
    ({ degree }) => !altered.has(degree) && !parts.omissions.includes(degree),
  );
  const seen = new Set<string>();
  return [...plain, ...parts.alterations, ...parts.additions]
    .toSorted((one, other) => one.degree - other.degree || one.alter - other.alter)
    .filter(({ degree, alter }) => {
      const name = `${degree}/${alter}`;
      const isNew = !seen.has(name);
      seen.add(name);
      return isNew;
    })
    .map((degree) => ({ degree: degree.degree, interval: degreeInterval(degree) }));
}

/** The degrees before alterations, additions and omissions. */
function plainDegrees(parts: ChordParts): readonly Degree[] {
  if (parts.altered) return [natural(1), natural(3), { degree: 7, alter: -1 }];
  return [
    natural(1),
    ...middle(parts),
    ...fifth(parts),
    ...sixth(parts),
    ...seventh(parts),
    ...upper(parts),
  ];
}

function natural(degree: number): Degree {
  return { degree, alter: 0 };
}

function middle(parts: ChordParts): readonly Degree[] {
  if (parts.suspended.length > 0) return parts.suspended.map(natural);
  if (isPower(parts)) return [];
  return [{ degree: 3, alter: hasMinorThird(parts) ? -1 : 0 }];
}

/** `C5`; a head and a 5 never come together. */
function isPower({ extension }: ChordParts): boolean {
  return extension === 5;
}

function hasMinorThird({ head, suspended }: ChordParts): boolean {
  if (suspended.length > 0) return false;
  return head === 'minor' || head === 'diminished' || head === 'halfDiminished';
}

function fifth({ head }: ChordParts): readonly Degree[] {
  if (head === 'diminished' || head === 'halfDiminished') return [{ degree: 5, alter: -1 }];
  return [{ degree: 5, alter: head === 'augmented' ? 1 : 0 }];
}

function sixth({ extension }: ChordParts): readonly Degree[] {
  return extension === 6 || extension === SIX_NINE ? [natural(6)] : [];
}

function seventh(parts: ChordParts): readonly Degree[] {
  if (!hasSeventh(parts)) return [];
  if (parts.majorSeventh) return [natural(7)];
  return [{ degree: 7, alter: parts.head === 'diminished' ? -2 : -1 }];
}

function hasSeventh({ head, extension, suspended, alterations }: ChordParts): boolean {
  if (extension >= 7 && extension !== SIX_NINE) return true;
  if (extension !== 0) return false;
  const hasFlatNine = alterations.some(({ degree, alter }) => degree === 9 && alter < 0);
  return head === 'halfDiminished' || (suspended.length > 0 && hasFlatNine);
}

function upper(parts: ChordParts): readonly Degree[] {
  const { extension } = parts;
  if (extension < 9) return [];
  const degrees = [natural(9)];
  const hasFourth = parts.suspended.includes(4);
  const wantsEleventh = extension === 11 || (extension === 13 && hasMinorThird(parts));
  if (wantsEleventh && !hasFourth) degrees.push(natural(11));
  if (extension === 13) degrees.push(natural(13));
  return degrees;
}

/**
 * What a chord does, for choosing a scale. A seventh chord with an augmented fifth and a minor seventh is a dominant;
 * a major triad with an altered ninth is one too. A third that is only left out (no3) still counts.
 * Common practice, no source.
 */
export function chordFamily(parts: ChordParts, tones: readonly ChordTone[]): ChordFamily {
  if (parts.suspended.length > 0) return 'suspended';
  const has = (degree: number, alter: number): boolean =>
    tones.some(({ interval }) => interval === degreeInterval({ degree, alter }));
  if (isPower(parts) || isBareFifth(parts)) return 'power';
  if (hasMinorThird(parts)) {
    if (!has(5, -1)) return 'minor';
    return has(7, -1) ? 'halfDiminished' : 'diminished';
  }
  if (has(7, -1) || has(9, -1) || has(9, 1)) return 'dominant';
  return has(5, 1) ? 'augmented' : 'major';
}

/** `no3` on a bare triad leaves root and fifth. */
function isBareFifth({ head, extension, omissions }: ChordParts): boolean {
  return head === null && extension === 0 && omissions.includes(3);
}
