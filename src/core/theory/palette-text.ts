/** Palettes as chart text names them between `<` and `>`: a scale, a scale on another root, or the notes. */

import { failure, type Outcome, success } from '../problem.ts';
import { NOTES_NAME, type Palette, paletteTones } from './palette.ts';
import { findScale, nearestScaleName, scalePalette } from './scales.ts';
import { formatTone, parseTone, semitonesUp, type Tone, tonePc } from './tone.ts';

export type PaletteTextProblemCode = 'empty' | 'tooLong' | 'scale' | 'note' | 'twice' | 'tooFew';

/** A problem in palette text; `offset` counts from 0 in the text as given, in UTF-16 code units. */
export interface PaletteTextProblem {
  readonly code: PaletteTextProblemCode;
  readonly offset: number;
  readonly read: string;
  readonly expected: string;
  readonly suggestion: string | null;
}

/** Longest text that is read, in UTF-16 code units: twelve notes and their spaces fit well. Own rule. */
const MAX_TEXT_LENGTH = 80;

interface Word {
  readonly text: string;
  readonly offset: number;
}

/**
 * Reads the text of a palette. In: the text without its brackets, and the root of the chord it belongs to.
 * Out: the palette. A scale name stands on the chord's root; a note name before it is another root; two or more note
 * names are the notes themselves, in any order, sorted upwards from the chord's root where it is among them, else
 * from the first. Problems: each note that comes twice (`twice`, by pitch), one that is no note (`note`), a single note
 * (`tooFew`), an unknown scale (`scale`), an empty or overlong text.
 */
export function parsePaletteText(
  text: string,
  chordRoot: Tone,
): Outcome<Palette, PaletteTextProblem> {
  const words = splitWords(text);
  const first = words[0];
  if (first === undefined) return failure(problem('empty', wordOf(text, 0), EXPECTED.any, null));
  if (text.length > MAX_TEXT_LENGTH)
    return failure(problem('tooLong', wordOf(text, first.offset), EXPECTED.short, null));
  const root = parseTone(first.text);
  if (root === null) return readScale(wordOf(text, first.offset), chordRoot, '');
  const second = words[1];
  if (second === undefined) return failure(problem('tooFew', first, EXPECTED.notes, null));
  if (parseTone(second.text) !== null) return readNotes(words, chordRoot);
  return readScale(wordOf(text, second.offset), root, `${first.text} `);
}

const EXPECTED = {
  any: 'a scale such as dorian, or notes such as C D Eb F G A Bb',
  short: `at most ${MAX_TEXT_LENGTH} characters`,
  scale: 'the name of a scale, alone or after its root, or at least two notes',
  notes: 'at least two notes, or the name of a scale after the root',
  note: 'a note from A to G, with b or # if needed',
  twice: 'each pitch once',
} as const;

function problem(
  code: PaletteTextProblemCode,
  { text, offset }: Word,
  expected: string,
  suggestion: string | null,
): PaletteTextProblem {
  return { code, offset, read: text, expected, suggestion };
}

/** Words between white space and commas, each with its offset. */
function splitWords(text: string): readonly Word[] {
  return Array.from(text.slice(0, 2 * MAX_TEXT_LENGTH).matchAll(/[^\s,]+/gu), (match) => ({
    text: match[0],
    offset: match.index,
  }));
}

/** The rest of the text from an offset, as one word. */
function wordOf(text: string, offset: number): Word {
  return { text: text.slice(offset, offset + MAX_TEXT_LENGTH).trimEnd(), offset };
}

function readScale(name: Word, root: Tone, before: string): Outcome<Palette, PaletteTextProblem> {
  const scale = findScale(name.text);
  if (scale !== null) return success(scalePalette(scale, root));
  return failure(problem('scale', name, EXPECTED.scale, suggestScale(name.text, before)));
}

/** The nearest scale, with the root that was written; a lower-case root is written large. */
function suggestScale(name: string, before: string): string | null {
  const match = /^([a-g][b#♭♯]?)\s+(.+)$/u.exec(name);
  const onRoot = match === null ? null : nearestScaleName(match[2] ?? '');
  if (match !== null && onRoot !== null) return `${capital(match[1] ?? '')} ${onRoot}`;
  const near = nearestScaleName(name);
  return near === null ? null : before + near;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function readNotes(words: readonly Word[], chordRoot: Tone): Outcome<Palette, PaletteTextProblem> {
  const tones: Tone[] = [];
  const problems: PaletteTextProblem[] = [];
  for (const word of words) {
    const tone = parseTone(word.text);
    if (tone === null) problems.push(problem('note', word, EXPECTED.note, suggestNote(word.text)));
    else if (tones.some((other) => tonePc(other) === tonePc(tone)))
      problems.push(problem('twice', word, EXPECTED.twice, null));
    else tones.push(tone);
  }
  const start = tones.find((tone) => tonePc(tone) === tonePc(chordRoot)) ?? tones[0];
  if (problems.length > 0 || start === undefined) return failure(...problems);
  const sorted = tones.toSorted(
    (one, other) => semitonesUp(start, one) - semitonesUp(start, other),
  );
  return success({
    name: NOTES_NAME,
    root: formatTone(start),
    ...paletteTones(sorted),
    falling: null,
  });
}

function suggestNote(text: string): string | null {
  const raised = capital(text);
  return parseTone(raised) === null ? null : raised;
}

/**
 * Writes a palette so that `parsePaletteText` with the same chord root reads it back: the scale's name on the chord's
 * own root, name after root on another one, or the notes.
 */
export function formatPaletteText(palette: Palette, chordRoot: Tone): string {
  if (palette.name === NOTES_NAME) return palette.notes.join(' ');
  const own = parsePaletteText(palette.name, chordRoot);
  const isOnChordRoot = own.ok && own.value.root === palette.root;
  return isOnChordRoot ? palette.name : `${palette.root} ${palette.name}`;
}
