/** Where a chord stands: its degree in the key, what its tones are called, and where it goes. */

import type { ChordFamily, ChordSymbol } from '../chord-symbol.ts';
import { degreeInterval } from '../degree.ts';
import { type Key, keyFifths } from '../key.ts';
import { pcMask } from '../palette.ts';
import { semitonesUp, tonePc } from '../tone.ts';

/** A chord with its key and the different chords before and after it, nearest first, as many as are known. */
export interface ChoiceInput {
  readonly symbol: ChordSymbol;
  readonly key: Key;
  readonly before: readonly ChordSymbol[];
  readonly after: readonly ChordSymbol[];
}

/** Degrees of a key in semitones above its tonic, under the numerals the rules speak in. */
export const I = 0;
export const FLAT_II = 1;
export const II = 2;
export const FLAT_III = 3;
export const III = 4;
export const IV = 5;
export const SHARP_IV = 6;
export const V = 7;
export const FLAT_VI = 8;
export const VI = 9;
export const FLAT_VII = 10;
export const VII = 11;

/** What the rules ask about a chord. Roots are compared by pitch, so that the spelling of a chart does not matter. */
export interface Place {
  readonly symbol: ChordSymbol;
  readonly mode: Key['mode'];
  /** Semitones from the key's tonic up to the chord's root, 0–11. */
  readonly degree: number;
  /** Names of the chord's tones above its root: `b3`, `bb7`, `#11`. */
  readonly tones: ReadonlySet<string>;
  /** Where it comes from and where it goes, other forms of the same chord passed over. */
  readonly previous: ChordSymbol | null;
  readonly next: ChordSymbol | null;
  /** Where the next one goes, and where the one before comes from, likewise. */
  readonly afterNext: ChordSymbol | null;
  readonly beforePrevious: ChordSymbol | null;
  /** Semitones from this root up to the next one, 0–11, or null. */
  readonly toNext: number | null;
  /** Semitones from the previous root up to this one, 0–11, or null. */
  readonly fromPrevious: number | null;
  /** The seven notes of the key signature as a bit set. */
  readonly keyMask: number;
}

/** Looks at a chord in its surroundings. */
export function placeOf({ symbol, key, before, after }: ChoiceInput): Place {
  const [previous = null, ...earlier] = beyondForms(symbol, before, BEFORE);
  const [beforePrevious = null] = previous === null ? [] : beyondForms(previous, earlier, BEFORE);
  const [next = null, ...further] = beyondForms(symbol, after, AFTER);
  const [afterNext = null] = next === null ? [] : beyondForms(next, further, AFTER);
  return {
    symbol,
    mode: key.mode,
    degree: semitonesUp(key.tonic, symbol.root),
    tones: new Set(symbol.tones.map(toneName)),
    previous,
    next,
    afterNext,
    beforePrevious,
    toNext: next === null ? null : semitonesUp(symbol.root, next.root),
    fromPrevious: previous === null ? null : semitonesUp(previous.root, symbol.root),
    keyMask: keyMask(key),
  };
}

type Forms = Readonly<Partial<Record<ChordFamily, readonly ChordFamily[]>>>;

const DOMINANT_FORMS: readonly ChordFamily[] = ['dominant', 'suspended'];
const SECOND_FORMS: readonly ChordFamily[] = ['minor', 'halfDiminished'];

/**
 * In which families a chord may be repeated on its root before it moves on. A dominant may turn into the ii of the next
 * one on its way, as in `G7 Gm7 C7`: it still goes there. Common practice, no source.
 */
const AFTER: Forms = {
  dominant: [...DOMINANT_FORMS, ...SECOND_FORMS],
  suspended: [...DOMINANT_FORMS, ...SECOND_FORMS],
  minor: SECOND_FORMS,
  halfDiminished: SECOND_FORMS,
};

/** The same for the forms it had before. */
const BEFORE: Forms = { dominant: DOMINANT_FORMS, suspended: DOMINANT_FORMS };

/** The chords from the first one on that is not the chord in another form. */
function beyondForms(
  { root, family }: ChordSymbol,
  chords: readonly ChordSymbol[],
  forms: Forms,
): readonly ChordSymbol[] {
  const isForm = (other: ChordSymbol): boolean =>
    semitonesUp(root, other.root) === 0 && forms[family]?.includes(other.family) === true;
  const first = chords.findIndex((other) => !isForm(other));
  return first === -1 ? [] : chords.slice(first);
}

function toneName({ degree, interval }: ChordSymbol['tones'][number]): string {
  const alter = (interval - degreeInterval({ degree, alter: 0 })) / 7;
  return (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter)) + degree;
}

/** The natural notes of the signature; the raised notes of minor are not among them. */
function keyMask(key: Key): number {
  const lowest = keyFifths(key) - 1;
  return pcMask(Array.from({ length: 7 }, (_, index) => tonePc(lowest + index)));
}

const FOURTH_UP = 5;
const SEMITONE_DOWN = 11;

/** The next chord lies a fourth up: the strongest resolution. */
export function goesUpFourth({ toNext }: Place): boolean {
  return toNext === FOURTH_UP;
}

/** The next chord lies a semitone down, as after a tritone substitute. */
export function goesDownSemitone({ toNext }: Place): boolean {
  return toNext === SEMITONE_DOWN;
}

/** The chord before was a dominant a fourth below: this chord is where it resolves. */
export function isResolution({ previous, fromPrevious }: Place): boolean {
  return previous?.family === 'dominant' && fromPrevious === FOURTH_UP;
}

/** Its own ii and V come before it. */
export function endsCadence(place: Place): boolean {
  const { previous, beforePrevious } = place;
  if (!isResolution(place) || previous === null || beforePrevious === null) return false;
  return isSecond(beforePrevious) && semitonesUp(beforePrevious.root, previous.root) === FOURTH_UP;
}

function isSecond({ family }: ChordSymbol): boolean {
  return SECOND_FORMS.includes(family);
}

/** The chord before was the ii of this one, of major or of minor. */
export function followsTwo({ previous, fromPrevious }: Place): boolean {
  return previous !== null && isSecond(previous) && fromPrevious === FOURTH_UP;
}

/** The chord before was the half-diminished ii of this one. */
export function followsHalfDiminished({ previous, fromPrevious }: Place): boolean {
  return previous?.family === 'halfDiminished' && fromPrevious === FOURTH_UP;
}

/** The next chord stands on the tonic of the key. */
export function goesToTonic({ degree, toNext }: Place): boolean {
  return toNext !== null && (degree + toNext) % 12 === I;
}

/** A dominant a fourth up follows: this chord is its ii. */
export function isTwoOfNext(place: Place): boolean {
  return goesUpFourth(place) && actsAsDominant(place.next);
}

/** The next chord goes on to the tonic of the key. */
export function leadsOnToTonic({ symbol, degree, afterNext }: Place): boolean {
  return afterNext !== null && (degree + semitonesUp(symbol.root, afterNext.root)) % 12 === I;
}

function actsAsDominant(symbol: ChordSymbol | null): boolean {
  return symbol?.family === 'dominant' || symbol?.family === 'suspended';
}

/** The ii of a dominant that resolves, a fourth up. */
export function isTwoOfResolution(place: Place): boolean {
  const { next, afterNext } = place;
  if (!isTwoOfNext(place) || next === null || afterNext === null) return false;
  return semitonesUp(next.root, afterNext.root) === FOURTH_UP;
}

/** The same where it resolves to a chord with a major third, or on to the next dominant. */
export function isTwoOfCadence(place: Place): boolean {
  const { afterNext } = place;
  return isTwoOfResolution(place) && afterNext !== null && MAJOR_SOUNDS.includes(afterNext.family);
}

/** Degrees on which the key's own chord a fourth up is minor; in minor also II, whose V leads on to minor. */
const MINOR_TARGETS: Readonly<Record<Key['mode'], readonly number[]>> = {
  major: [III, VI, VII],
  minor: [I, II, V],
};

/**
 * Whether a dominant leads to minor: the chord a fourth up says so where it comes; where another chord comes, or none,
 * the key's own chord there does. A II7 of a minor key leads on through V to minor.
 */
export function leadsToMinor(place: Place): boolean {
  const { next, mode, degree } = place;
  const expected = MINOR_TARGETS[mode].includes(degree);
  if (next === null || !goesUpFourth(place)) return expected;
  if (mode === 'minor' && degree === II) return true;
  return ['minor', 'halfDiminished', 'diminished'].includes(next.family);
}

/** The same of a dominant that is not looked at further. */
export function dominantLeadsToMinor(input: ChoiceInput): boolean {
  return leadsToMinor(placeOf(input));
}

const MAJOR_SOUNDS: readonly ChordFamily[] = ['major', 'augmented', 'dominant', 'suspended'];

/**
 * Whether a dominant resolves to a chord that is not minor: a fourth up, or a semitone down as a substitute does. Where it
 * does neither, the V of a major key still expects its I.
 */
export function leadsToMajor(place: Place): boolean {
  const { next, mode, degree } = place;
  if (next === null || !(goesUpFourth(place) || goesDownSemitone(place))) {
    return mode === 'major' && degree === V;
  }
  if (goesUpFourth(place) && leadsToMinor(place)) return false;
  return MAJOR_SOUNDS.includes(next.family);
}

/** A neighbour is the tonic as a dominant seventh: the sound of a blues. */
export function isInBlues({ degree, fromPrevious, toNext, previous, next }: Place): boolean {
  const before = previous?.family === 'dominant' && (degree - (fromPrevious ?? 0) + 12) % 12 === I;
  const after = next?.family === 'dominant' && (degree + (toNext ?? 0)) % 12 === I;
  return before || after;
}
