/** The part of a chord symbol after its root: heads, numbers, alterations, additions, omissions. */

import { type ChordParts, NO_PARTS } from './chord-parts.ts';
import { CHORD_WORDS, type Head, type Row, SIX_NINE, type Word } from './chord-words.data.ts';
import type { Degree } from './degree.ts';
import { EXPECTED, type SymbolProblem } from './symbol-problem.ts';

/** A problem before its suggestion is known. */
export type QualityFault = Omit<SymbolProblem, 'suggestion'>;

/** Tells a fault from a value that was read. */
export function isFault(result: object): result is QualityFault {
  return 'code' in result;
}

/** Where the reading stands: the text, its end, the parts so far, and what the place allows. */
interface State {
  readonly text: string;
  readonly end: number;
  readonly at: number;
  readonly parts: ChordParts;
  /** Nothing has been read after the root. */
  readonly first: boolean;
  /** A parenthesis, comma, slash or space stands just before: a number here is an added tone. */
  readonly apart: boolean;
  /** Where the open parenthesis stands, or null. */
  readonly opened: number | null;
}

/**
 * Reads the quality of a symbol. In: the whole symbol in plain signs and where its quality begins and ends.
 * Out: its parts, or the first fault with its offset in that text.
 */
export function readQuality(text: string, from: number, end: number): ChordParts | QualityFault {
  let state: State = {
    text,
    end,
    at: from,
    parts: NO_PARTS,
    first: true,
    apart: false,
    opened: null,
  };
  while (state.at < end) {
    const next = readSign(state) ?? readWord(state);
    if (isFault(next)) return next;
    state = next;
  }
  if (state.opened !== null) return faultAt(state, 'parenthesis', state.opened, EXPECTED.closing);
  const { parts } = state;
  const isOpen = parts.extension === 0;
  if (isOpen && parts.head === 'dominant')
    return faultHere(state, 'quality', EXPECTED.afterDominant);
  const wantsSeventh = parts.majorSeventh && parts.head !== 'major' && parts.head !== null;
  return isOpen && wantsSeventh ? faultHere(state, 'quality', EXPECTED.afterMajor) : parts;
}

function faultAt(
  { text, end }: State,
  code: SymbolProblem['code'],
  offset: number,
  expected: string,
): QualityFault {
  return { code, offset, read: text.slice(offset, end), expected };
}

function faultHere(state: State, code: SymbolProblem['code'], expected: string): QualityFault {
  return faultAt(state, code, state.at, expected);
}

/** Parentheses and separators; null when the place holds something else. */
function readSign(state: State): State | QualityFault | null {
  const sign = state.text[state.at];
  const past: State = { ...state, at: state.at + 1, apart: true };
  switch (sign) {
    case '(':
      if (state.opened !== null) return faultHere(state, 'parenthesis', EXPECTED.closing);
      return { ...past, opened: state.at };
    case ')':
      if (state.opened === null) return faultHere(state, 'parenthesis', EXPECTED.opening);
      if (state.text.slice(state.opened + 1, state.at).trim() === '')
        return faultAt(state, 'parenthesis', state.opened, EXPECTED.inside);
      return { ...past, opened: null };
    case ' ':
      return state.opened === null ? faultHere(state, 'space', EXPECTED.noSpace) : past;
    case ',':
    case '/':
      return state.first && state.opened === null ? null : past;
    case '|':
    case '\\':
      return faultHere(state, 'polychord', EXPECTED.polychord);
    default:
      return null;
  }
}

function readWord(state: State): State | QualityFault {
  const found = wordAt(state);
  const expected = state.first ? EXPECTED.quality : EXPECTED.later;
  if (found === null) return faultHere(state, 'quality', expected);
  const [spelling, word] = found;
  const parts = withWord(state, word);
  if (parts === null) return faultHere(state, 'quality', expected);
  if (typeof parts === 'string') return faultHere(state, 'quality', parts);
  return { ...state, at: state.at + spelling.length, parts, first: false, apart: false };
}

function wordAt(state: State): Row | null {
  const text = state.text.slice(state.at, state.end);
  const rest: Rest = { text, lower: asciiLower(text) };
  return CHORD_WORDS.find((row) => fits(row, rest, state)) ?? null;
}

/** What is still to be read, as it is and in small letters. */
interface Rest {
  readonly text: string;
  readonly lower: string;
}

function fits([spelling, word]: Row, rest: Rest, state: State): boolean {
  if (!startsWith(rest, spelling)) return false;
  if (word.kind === 'majorSeventh') return ![0, 5, 7].includes(state.parts.extension);
  if (isBareStart(state)) {
    if (word.kind === 'alter') return spelling === '+5';
    if (rest.text.startsWith('+11')) return false;
  }
  const isMinorAdd = spelling.length === 2 && rest.lower.startsWith('add', 1);
  return !isMinorAdd;
}

/**
 * Straight after the root `-` and `+` are minor and augmented, and a flat or sharp belongs to the root: an alteration
 * there needs parentheses, or `Ab#5` moved up a semitone would read as a bare fifth on A#. `+5` is augmented all the same;
 * `+11` could mean two chords and is not read.
 */
function isBareStart({ first, opened }: State): boolean {
  return first && opened === null;
}

/** Words of three letters and more are read in any case. */
function startsWith({ text, lower }: Rest, spelling: string): boolean {
  return text.startsWith(spelling) || (spelling.length >= 3 && lower.startsWith(spelling));
}

/** Only A–Z, so that no sign changes its length. */
function asciiLower(text: string): string {
  return text.replace(/[A-Z]/g, (letter) => letter.toLowerCase());
}

/** The parts with one word more; null when the word cannot stand here, a text when there is more to say. */
function withWord(state: State, word: Word): ChordParts | string | null {
  const { parts } = state;
  if (parts.altered) return EXPECTED.alt;
  switch (word.kind) {
    case 'head':
      return withHead(state, word.head);
    case 'triangle':
      return withTriangle(parts);
    case 'majorSeventh':
      return withLateSeventh(parts);
    case 'number':
      return withNumber(state, word.number);
    case 'sus':
      return parts.suspended.length > 0 ? null : { ...parts, suspended: word.degrees };
    case 'alter':
      if (includes(parts.alterations, word)) return EXPECTED.once;
      return { ...parts, alterations: [...parts.alterations, word] };
    case 'add':
      if (includes(parts.additions, word)) return EXPECTED.once;
      return { ...parts, additions: [...parts.additions, word] };
    case 'omit':
      if (parts.omissions.includes(word.degree)) return EXPECTED.once;
      return { ...parts, omissions: [...parts.omissions, word.degree] };
    case 'alt':
      return withAlt(parts);
  }
}

function includes(degrees: readonly Degree[], { degree, alter }: Degree): boolean {
  return degrees.some((other) => other.degree === degree && other.alter === alter);
}

/** Besides the heads: `+` or aug after a number or a minor head is #5, and `7M` is maj7. */
function withHead({ parts, text, at, apart }: State, head: Head): ChordParts | null {
  const { alterations, additions, omissions } = parts;
  const isBare = alterations.length + additions.length + omissions.length === 0;
  const isStart = parts.head === null && parts.extension === 0 && isBare;
  if (isStart) return { ...parts, head, majorSeventh: head === 'major' };
  if (head === 'augmented') {
    const isSharpSeven = parts.extension === 0 && /^\+\d/.test(text.slice(at, at + 2));
    return isSharpSeven ? null : withDegree(parts, 5, 1);
  }
  const isLate = parts.extension === 7 && !apart && text[at] === 'M';
  const isOpen = parts.extension === 0 || isLate;
  const takesMajor = isOpen && !parts.majorSeventh && parts.head !== 'dominant';
  return head === 'major' && takesMajor ? { ...parts, majorSeventh: true } : null;
}

function withDegree(parts: ChordParts, degree: number, alter: number): ChordParts {
  return { ...parts, alterations: [...parts.alterations, { degree, alter }] };
}

/** A triangle alone is a major seventh; a number after it extends the chord further. */
function withTriangle(parts: ChordParts): ChordParts | null {
  if (parts.extension !== 0 || parts.majorSeventh) return null;
  return { ...parts, head: parts.head ?? 'major', majorSeventh: true, extension: 7 };
}

/** After a sixth the seventh is added (m6(maj7)); after 9, 11 or 13 it makes the chord's own seventh major. */
function withLateSeventh(parts: ChordParts): ChordParts | null {
  if (parts.extension === 6 || parts.extension === SIX_NINE) return withAddition(parts, 7);
  return parts.majorSeventh ? null : { ...parts, majorSeventh: true };
}

function withNumber(state: State, number: number): ChordParts | null {
  const { parts, text, at } = state;
  if (number === 2) return withAddition(parts, 2);
  const afterTriangle = parts.majorSeventh && /[Δ^j]$/.test(text.slice(0, at));
  const isFree = parts.extension === 0 || (afterTriangle && parts.extension === 7);
  const isAdded = state.apart && ADDED_NUMBERS.includes(number);
  if (isFree && !(isAdded && number !== 6)) return withExtension(parts, number);
  return isAdded ? withAddition(parts, number) : null;
}

/** Numbers that add a tone when they stand apart: C(9) is Cadd9, while C(6) and C(7) are C6 and C7. */
const ADDED_NUMBERS: readonly number[] = [6, 9, 11, 13];

function withExtension(parts: ChordParts, number: number): ChordParts | null {
  if (number !== 5) return { ...parts, extension: number };
  if (parts.head === 'augmented') return parts;
  const isBare = parts.head === null && parts.suspended.length === 0;
  return isBare ? { ...parts, extension: 5 } : null;
}

function withAddition(parts: ChordParts, degree: number): ChordParts {
  return { ...parts, additions: [...parts.additions, { degree, alter: 0 }] };
}

function withAlt(parts: ChordParts): ChordParts | string {
  const isPlain = parts.head === null || parts.head === 'dominant';
  const isBare = parts.alterations.length + parts.additions.length + parts.omissions.length === 0;
  const isSeventh = parts.extension === 0 || parts.extension === 7;
  if (!isPlain || !isBare || !isSeventh || parts.suspended.length > 0) return EXPECTED.alt;
  return { ...parts, altered: true };
}
