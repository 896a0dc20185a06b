/** Bars put in, taken out and moved in chart text, in the chart and in all its plans alike. */

import { failure, type Outcome, success } from '../problem.ts';
import { parseChordSymbol, transposeChordSymbol } from '../theory/index.ts';
import { type BarText, readBarTexts, type TextEdit } from './edit-text.ts';

/** Why a bar cannot be taken out here: `lastBar`, or a `sign` of the form stands at it. */
export type RemoveProblem = 'lastBar' | 'sign';

/** A line with this many bars is full: the next bar begins another. */
const BARS_IN_LINE = 4;

/** A bar after another one (from 0): `content` in the chart, `%` in its plans. */
export function addBarEdits(text: string, after: number, content: string): readonly TextEdit[] {
  return readBarTexts(text).flatMap(({ bars }, plan) => {
    const bar = bars[after];
    if (bar === undefined) return [];
    const added = plan === 0 ? content : '%';
    const end = endOfFullLine(text, bars, bar);
    return end === null
      ? [{ from: bar.to, to: bar.to, insert: ` | ${added}` }]
      : [{ from: end, to: end, insert: `\n| ${added} |` }];
  });
}

/** Where the line of its last bar ends, when that line is full and ends in a plain bar line; else null. */
function endOfFullLine(text: string, bars: readonly BarText[], last: BarText): number | null {
  const start = text.lastIndexOf('\n', last.from) + 1;
  const rest = /^[ \t]*\|[ \t]*(?=$|\r?\n)/u.exec(text.slice(last.to));
  const inLine = bars.filter(({ from, to }) => from >= start && to <= last.to);
  return rest === null || inLine.length < BARS_IN_LINE ? null : last.to + rest[0].length;
}

/**
 * Takes a bar (from 0) out of the chart and of its plans, with one plain bar line, or with its line when it stands
 * alone there. Problems: the only bar of a chart or a section stays; so does one with a sign on both sides.
 */
export function removeBarEdits(
  text: string,
  index: number,
): Outcome<readonly TextEdit[], RemoveProblem> {
  const edits: TextEdit[] = [];
  for (const { bars } of readBarTexts(text)) {
    const [bar, before, after] = [bars[index], bars[index - 1], bars[index + 1]];
    if (bar === undefined) continue;
    if (bars.length === 1) return failure('lastBar');
    const isSection = bar.section !== null && (after === undefined || after.section !== null);
    const span =
      plainSpan(text, bar, after, bar.from) ??
      plainSpan(text, before, bar, bar.to) ??
      wholeLine(text, bar);
    if (span === null || isSection) return failure('sign');
    edits.push({ ...span, insert: '' });
  }
  return success(edits);
}

type Span = Pick<TextEdit, 'from' | 'to'>;

/** What lies between two bars, with the one that ends at `edge`, when it is one plain bar line; else null. */
function plainSpan(
  text: string,
  one: BarText | undefined,
  other: BarText | undefined,
  edge: number,
): Span | null {
  if (one === undefined || other === undefined) return null;
  if (!/^[ \t]*\|[ \t]*$/u.test(text.slice(one.to, other.from))) return null;
  return { from: Math.min(one.to, edge), to: Math.max(other.from, edge) };
}

/** The line of a bar that stands alone in it between plain bar lines; else null. */
function wholeLine(text: string, bar: BarText): Span | null {
  const from = text.lastIndexOf('\n', bar.from) + 1;
  const next = text.indexOf('\n', bar.to);
  const to = next < 0 ? text.length : next + 1;
  const around = `${text.slice(from, bar.from)}·${text.slice(bar.to, to)}`;
  return /^[ \t]*\|[ \t]*·[ \t]*\|\s*$/u.test(around) ? { from, to } : null;
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
