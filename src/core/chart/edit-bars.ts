/** Bars put in, taken out and moved in chart text, in the chart and in all its plans alike. */

import { failure, type Outcome, success } from '../problem.ts';
import { parseChordSymbol, transposeChordSymbol } from '../theory/index.ts';
import { type BarText, readBarTexts, type TextEdit } from './edit-text.ts';

/** Why a bar cannot be taken out here: `lastBar`, or a `sign` of the form stands at it. */
export type RemoveProblem = 'lastBar' | 'sign';

/** A bar after another one (from 0): `content` in the chart, `%` in its plans. */
export function addBarEdits(text: string, after: number, content: string): readonly TextEdit[] {
  return readBarTexts(text).flatMap(({ bars }, plan) => {
    const bar = bars[after];
    const insert = ` | ${plan === 0 ? content : '%'}`;
    return bar === undefined ? [] : [{ from: bar.to, to: bar.to, insert }];
  });
}

/**
 * Takes a bar (from 0) out of the chart and of its plans. Problems: the only bar of a chart stays; so does one whose
 * bar lines carry a repeat, an ending or a double bar, or the only one of a line: these are changed in the text.
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
    const span = plainSpan(text, before, bar) ?? plainSpan(text, bar, after);
    if (span === null || bar.section !== null) return failure('sign');
    edits.push(
      before !== undefined && span.from === before.to
        ? { from: before.to, to: bar.to, insert: '' }
        : { from: bar.from, to: span.to, insert: '' },
    );
  }
  return success(edits);
}

/** What lies between two bars, when it is one plain bar line of one line; else null. */
function plainSpan(
  text: string,
  one: BarText | undefined,
  other: BarText | undefined,
): { readonly from: number; readonly to: number } | null {
  if (one === undefined || other === undefined) return null;
  const isPlain = /^[ \t]*\|[ \t]*$/u.test(text.slice(one.to, other.from));
  return isPlain ? { from: one.to, to: other.from } : null;
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
