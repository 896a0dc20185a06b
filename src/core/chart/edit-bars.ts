/** Bars put in, taken out and moved in chart text, in the chart and in all its plans alike. */

import { failure, type Outcome, success } from '../problem.ts';
import { parseChordSymbol, transposeChordSymbol } from '../theory/index.ts';
import type { BarText } from './edit-text.ts';
import type { Token } from './syntax/tokens.ts';
import { type BarNode, type BlockNode, readTree } from './syntax/tree.ts';
import { applyEdits, type TextEdit } from './text-edit.ts';

/** Why a bar cannot be taken out here: `lastBar`, or a `sign` of the form stands at it. */
export type RemoveProblem = 'lastBar' | 'sign';

/** A line with this many bars is full: the next bar begins another. */
const BARS_IN_LINE = 4;

const SAME = '%';

/**
 * A bar after another one (from 0): `content` in the chart, `%` in its plans. A `%` that stood after that bar goes on to mean what it
 * meant: its chords are written out.
 */
export function addBarEdits(text: string, after: number, content: string): readonly TextEdit[] {
  const { plain, plans } = readTree(text);
  return [plain, ...plans].flatMap((block, plan) => {
    const bar = block.bars[after];
    if (bar === undefined) return [];
    const added = plan === 0 ? content : SAME;
    const end = endOfFullLine(block.bars, bar);
    const edit =
      end === null
        ? { from: bar.to, to: bar.to, insert: ` | ${added}` }
        : { from: end.at, to: end.at, insert: `${end.lineEnd}| ${added} |` };
    return [edit, ...(plan === 0 && content !== SAME ? writtenOut(text, block, after) : [])];
  });
}

/** Where the line of its last bar ends, and how, when that line is full and ends in a plain bar line; else null. */
function endOfFullLine(
  bars: readonly BarNode[],
  last: BarNode,
): { readonly at: number; readonly lineEnd: string } | null {
  const rest = last.line.tokens.filter(({ from, kind }) => from >= last.to && kind !== 'space');
  const [line, next] = rest;
  const inLine = bars.filter((bar) => bar.line === last.line && bar.from <= last.from);
  const isPlain = line !== undefined && isPlainBarLine(line);
  const isEnd = next === undefined || next.kind === 'lineEnd';
  if (!isPlain || !isEnd || inLine.length < BARS_IN_LINE) return null;
  return { at: next?.from ?? last.line.to, lineEnd: next?.text ?? '\n' };
}

/** In the chart itself, the `%` after a bar as the chords of that bar: none where there is no `%`, or nothing to repeat. */
function writtenOut(text: string, { bars }: BlockNode, index: number): readonly TextEdit[] {
  const next = bars[index + 1];
  // A line that no bar line opens may become a line of another kind.
  if (next === undefined || next.opening === null || !isSame(next)) return [];
  const meant = bars.slice(0, index + 1).findLast((bar) => !isSame(bar));
  if (meant === undefined || meant.tokens.length === 0 || isCutOff(meant)) return [];
  // With the white space before it: a # after none is a sharp, a # after some would begin a comment.
  return [{ from: next.start, to: next.to, insert: text.slice(meant.start, meant.to) }];
}

/** A palette that is not closed ends at its bar line alone. */
function isCutOff({ tokens }: BarNode): boolean {
  const last = tokens.at(-1);
  return last?.kind === 'palette' && !last.closed;
}

function isSame({ tokens }: BarNode): boolean {
  return tokens.length === 1 && tokens[0]?.text === SAME;
}

/**
 * Takes a bar (from 0) out of the chart and of its plans, with one plain bar line, or with its line when it stands
 * alone there. A `%` after it goes on to mean what it meant. Problems: the only bar of a chart or a section stays; so does one
 * with a sign on both sides, or without the bar lines it should have.
 */
export function removeBarEdits(
  text: string,
  index: number,
): Outcome<readonly TextEdit[], RemoveProblem> {
  const edits: TextEdit[] = [];
  const { plain, plans } = readTree(text);
  for (const [plan, block] of [plain, ...plans].entries()) {
    const { bars } = block;
    const [bar, before, after] = [bars[index], bars[index - 1], bars[index + 1]];
    if (bar === undefined) continue;
    if (bars.length === 1) return failure('lastBar');
    const isSection = block.sections.some(
      (section) => section.name !== null && section.bars.length === 1 && section.bars[0] === bar,
    );
    const span = withLineAfter(bar, after) ?? withLineBefore(before, bar) ?? wholeLine(bar);
    if (span === null || isSection) return failure('sign');
    const kept = plan === 0 && !isSame(bar) ? writtenOut(text, block, index) : [];
    edits.push({ ...span, insert: '' }, ...kept);
  }
  return isOneFewer(text, edits, index) ? success(edits) : failure('sign');
}

/** Where bar lines are missing, what is left of a line may be no bars any more. */
function isOneFewer(text: string, edits: readonly TextEdit[], index: number): boolean {
  const [before, after] = [readTree(text), readTree(applyEdits(text, edits))].map(
    ({ plain, plans }) => [plain, ...plans].map(({ bars }) => bars.length),
  );
  return before?.every((bars, plan) => after?.[plan] === (index < bars ? bars - 1 : bars)) ?? false;
}

type Span = Pick<TextEdit, 'from' | 'to'>;

/** A bar with the plain bar line after it, from what stands before it; null where other signs are there. */
function withLineAfter(bar: BarNode, after: BarNode | undefined): Span | null {
  if (after === undefined || after.tokens.length === 0 || !isPlainBetween(bar, after)) return null;
  // Where no bar line opens the line, the one after it does from now on.
  return { from: bar.start, to: bar.opening === null ? bar.to : after.start };
}

/** A bar with the plain bar line before it; null where other signs are there. */
function withLineBefore(before: BarNode | undefined, bar: BarNode): Span | null {
  if (before === undefined || bar.opening === null || !isPlainBetween(before, bar)) return null;
  if (before.tokens.length > 0 && before.opening !== null) return { from: before.to, to: bar.to };
  // A bar that is empty, or not opened, keeps the bar line after it where there is no other.
  if (bar.closing === null) return { from: bar.start, to: bar.to };
  return isPlainBarLine(bar.closing) ? { from: bar.opening.from, to: bar.to } : null;
}

/** Whether nothing stands between two bars but one plain bar line. */
function isPlainBetween(one: BarNode, other: BarNode): boolean {
  const between = one.line.tokens.filter(
    ({ kind, from }) => kind !== 'space' && from >= one.to && from < other.from,
  );
  return (
    one.line === other.line &&
    !isCutOff(one) &&
    between.length === 1 &&
    between.every(isPlainBarLine)
  );
}

/** The line of a bar that stands alone in it between plain bar lines; else null. */
function wholeLine({ line, tokens }: BarNode): Span | null {
  const written = line.tokens.filter(({ kind }) => kind !== 'space' && kind !== 'lineEnd');
  const [first, last] = [written[0], written.at(-1)];
  const isAlone =
    written.length === tokens.length + 2 &&
    [first, last].every((token) => token !== undefined && isPlainBarLine(token));
  return isAlone ? { from: line.from, to: line.to } : null;
}

/** A bar line that says nothing of the form. */
function isPlainBarLine(token: Token): boolean {
  return token.kind === 'barLine' && token.text === '|';
}

/** Fifths for a semitone up, the way that adds fewest accidentals: as flats going up, as sharps going down. */
const SEMITONE_UP = -5;
const OCTAVE_OF_FIFTHS = 12;

/**
 * The text of a bar with every chord a number of semitones higher (negative: lower), named with few accidentals;
 * palettes and whatever is no chord stay as they are.
 */
export function transposeBarText({ words }: Pick<BarText, 'words'>, semitones: number): string {
  return words
    .map(({ kind, text }) => {
      const chord = kind === 'word' ? parseChordSymbol(text) : null;
      if (chord?.ok !== true) return text;
      const steps = ((semitones % 12) + 12) % 12;
      const fifths = steps * SEMITONE_UP;
      const raw = chord.value.root + fifths;
      // Between Db and B on the line of fifths: five flats to five sharps.
      const nearest = raw - OCTAVE_OF_FIFTHS * Math.round((raw - 0.5) / OCTAVE_OF_FIFTHS);
      return transposeChordSymbol(chord.value, nearest - chord.value.root).text;
    })
    .join(' ');
}
