/** What stands in one bar: chords on their beats with the palettes named for them, or `%`. */

import { nearestWordAnyCase } from '../nearest-word.ts';
import type { ChordSymbol } from '../theory/chord-symbol.ts';
import { parseChordSymbol, parsePaletteText } from '../theory/index.ts';
import { type BeatItem, placeOnBeats } from './beats.ts';
import { FORM_MARK_NAMES } from './form-marks.ts';
import { beatsPerBar, formatMeter, isCompound } from './meter.ts';
import type { BarContent, GivenPalette, Meter } from './model.ts';
import { type ChartProblem, chartProblem, type QuickFix, replace } from './problems.ts';
import type { PaletteToken, WordToken } from './syntax/tokens.ts';
import type { BarNode, ContentToken } from './syntax/tree.ts';

/** What of a bar is read here. */
export type BarTokens = Pick<BarNode, 'place' | 'tokens'>;

/** `content` is null when the bar has problems. */
export interface ContentResult {
  readonly content: BarContent | null;
  readonly problems: readonly ChartProblem[];
}

/** Reads a chord symbol. */
export type ChordReader = typeof parseChordSymbol;

/** A reader that reads each spelling once: a chart has few of them, and says them often. */
export function rememberingReader(): ChordReader {
  const known = new Map<string, ReturnType<ChordReader>>();
  return (text) => {
    const read = known.get(text) ?? parseChordSymbol(text);
    known.set(text, read);
    return read;
  };
}

/** A chord as far as it was understood; `symbol` undefined is one that was not. */
interface ReadChord {
  readonly symbol: ChordSymbol | null | undefined;
  readonly given: GivenPalette | null;
}

/** As many as the longest bar can hold, each half-beat with a palette; beyond it reading chord by chord helps nobody. */
const MAX_TOKENS = 28;

/**
 * Reads one bar in its meter; a null meter (one that was not understood) leaves the sharing of beats unjudged.
 * Problems: all of the bar's own, each at its token.
 */
export function readContent(
  bar: BarTokens,
  meter: Meter | null,
  read: ChordReader = parseChordSymbol,
): ContentResult {
  if (bar.tokens.length > MAX_TOKENS) return { content: null, problems: [tooMany(bar, meter)] };
  if (bar.tokens.some(isSame)) return readSame(bar);
  const problems: ChartProblem[] = [];
  const items = readItems(bar.tokens, problems, read);
  if (items.length === 0) return { content: null, problems };
  const beats = meter === null ? items.length : beatsPerBar(meter);
  const result = placeOnBeats(items, beats);
  if (result.kind === 'holdFirst') problems.push(holdFirst(bar));
  if (result.kind === 'tooMany') problems.push(tooMany(bar, meter));
  if (result.kind === 'holdsUneven') problems.push(holdsUneven(bar, beats, meter));
  if (result.kind !== 'placed' || problems.length > 0) return { content: null, problems };
  const chords = result.placed.flatMap(({ value, beat, beats: length }) =>
    value.symbol === undefined
      ? []
      : [{ beat, beats: length, symbol: value.symbol, given: value.given }],
  );
  return { content: { kind: 'chords', chords }, problems };
}

function isSame(token: ContentToken): boolean {
  return token.kind === 'word' && token.text === '%';
}

function readSame(bar: BarTokens): ContentResult {
  const other = bar.tokens.find((token, index) => index > 0 || !isSame(token));
  if (other === undefined) return { content: { kind: 'same' }, problems: [] };
  const expected = '% alone in its bar';
  return {
    content: null,
    problems: [chartProblem('sameWithOthers', other, other.text, expected)],
  };
}

function readItems(
  tokens: readonly ContentToken[],
  problems: ChartProblem[],
  read: ChordReader,
): readonly BeatItem<ReadChord>[] {
  const items: BeatItem<ReadChord>[] = [];
  for (const [index, token] of tokens.entries()) {
    if (token.kind === 'palette') {
      if (!hasChordBefore(tokens, index)) problems.push(paletteAlone(token));
      continue;
    }
    if (token.text === '/') {
      items.push({ kind: 'hold' });
      continue;
    }
    const next = tokens[index + 1];
    const palette = next?.kind === 'palette' ? next : null;
    items.push({ kind: 'value', value: readChord(token, palette, problems, read) });
  }
  return items;
}

/** A palette belongs to the word just before it, when that is a chord. */
function hasChordBefore(tokens: readonly ContentToken[], index: number): boolean {
  const before = tokens[index - 1];
  return before?.kind === 'word' && before.text !== '/' && !isNoChord(before.text);
}

/** `N.C.` in the spellings people type. Common practice, no source. */
export function isNoChord(text: string): boolean {
  return /^N\.?C\.?$/iu.test(text);
}

function readChord(
  token: WordToken,
  palette: PaletteToken | null,
  problems: ChartProblem[],
  read: ChordReader,
): ReadChord {
  if (isNoChord(token.text)) return { symbol: null, given: null };
  const chord = read(token.text);
  if (!chord.ok) {
    for (const problem of chord.problems) problems.push(chordProblem(token, problem));
    return { symbol: undefined, given: null };
  }
  const given = palette === null ? null : readPalette(palette, chord.value, problems);
  return { symbol: chord.value, given };
}

type SymbolProblem = Extract<ReturnType<ChordReader>, { readonly ok: false }>['problems'][number];

function chordProblem(token: WordToken, problem: SymbolProblem): ChartProblem {
  if (token.text.startsWith('[')) {
    const expected = 'a section name at the start of its own line';
    return chartProblem('unknownSection', token, token.text, expected);
  }
  const place = { line: token.line, column: token.column + problem.offset };
  const words = nearestWords(token.text) ?? problem.suggestion;
  const fix = words === null ? null : replace(token, words);
  return chartProblem('unknownChord', place, problem.read, problem.expected, fix);
}

/** What was meant by a word that is not even nearly a chord: holds without spaces, a mark of the form. */
function nearestWords(text: string): string | null {
  if (/^\/{2,}$/u.test(text)) return Array.from(text.slice(0, 8)).join(' ');
  const inner = /^\((.+)\)$/u.exec(text)?.[1];
  const mark = inner === undefined ? null : nearestWordAnyCase(inner, FORM_MARK_NAMES);
  return mark === null ? null : `(${mark})`;
}

function readPalette(
  token: PaletteToken,
  symbol: ChordSymbol,
  problems: ChartProblem[],
): GivenPalette | null {
  if (!token.closed) {
    const expected = 'a > that ends the palette';
    problems.push(chartProblem('paletteNotClosed', token, token.text, expected));
    return null;
  }
  if (token.name === '') {
    const expected = 'a palette such as <dorian> or <C D Eb F G A Bb>';
    problems.push(chartProblem('emptyPalette', token, token.text, expected));
    return null;
  }
  const palette = parsePaletteText(token.name, symbol.root);
  if (palette.ok) return { text: token.name, palette: palette.value };
  for (const problem of palette.problems) {
    const place = { line: token.line, column: token.nameColumn + problem.offset };
    const fix = paletteFix(token, symbol.root, problem);
    problems.push(chartProblem('unknownPalette', place, problem.read, problem.expected, fix));
  }
  return null;
}

type PaletteProblem = Extract<
  ReturnType<typeof parsePaletteText>,
  { readonly ok: false }
>['problems'][number];

/** A suggestion stands for the word that was read, or for the whole name: whichever leaves no problem there. */
function paletteFix(
  { name, nameColumn, column, from }: PaletteToken,
  root: ChordSymbol['root'],
  { offset, read, suggestion }: PaletteProblem,
): QuickFix | null {
  if (suggestion === null) return null;
  const nameFrom = from + nameColumn - column;
  const word = { from: nameFrom + offset, text: read };
  const whole = { from: nameFrom, text: name };
  const removes = (place: typeof word): boolean => {
    const at = place.from - nameFrom;
    const after = parsePaletteText(
      name.slice(0, at) + suggestion + name.slice(at + place.text.length),
      root,
    );
    return after.ok || after.problems.every((other) => other.offset !== offset);
  };
  const place = [word, whole].find(removes);
  return place === undefined ? null : replace(place, suggestion);
}

function paletteAlone(token: PaletteToken): ChartProblem {
  const expected = 'a chord just before the palette';
  return chartProblem('paletteWithoutChord', token, token.text, expected);
}

function holdFirst(bar: BarTokens): ChartProblem {
  const expected = 'a chord or N.C. before the first / of the bar';
  return chartProblem('holdWithoutChord', bar.place, '/', expected);
}

function tooMany(bar: BarTokens, meter: Meter | null): ChartProblem {
  const expected = meter === null ? 'fewer chords in one bar' : `at most ${describeBeats(meter)}`;
  return chartProblem('beatsDoNotFit', bar.place, barText(bar), expected);
}

function holdsUneven(bar: BarTokens, beats: number, meter: Meter | null): ChartProblem {
  const wanted = meter === null ? `${beats} words` : describeBeats(meter);
  const expected = `${wanted}, one for each beat, or twice as many, when a bar has a /`;
  return chartProblem('beatsDoNotFit', bar.place, barText(bar), expected);
}

function describeBeats(meter: Meter): string {
  const unit = isCompound(meter) ? ', which beats in dotted quarters' : '';
  return `${beatsPerBar(meter)} chords or / in a bar of ${formatMeter(meter)}${unit}`;
}

function barText(bar: BarTokens): string {
  return bar.tokens
    .slice(0, MAX_TOKENS)
    .map((token) => token.text)
    .join(' ');
}
