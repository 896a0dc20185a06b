/** Which level a drill is to be graded at. */

import type { Form } from '../../chart/index.ts';
import { gradeTake } from '../../grading/index.ts';
import { LEVELS } from '../../words.ts';
import { type BlankLine, fillLine } from '../blank-line.ts';
import { takeOfLine } from '../line-take.ts';
import type { WrittenLine } from '../written-line.ts';

/** Nothing the grader asks of exact notes depends on the tempo. */
const TEMPO_BPM = 60;

/**
 * The line at the lowest level, from the blank's own upwards, at which the grader finds it clean by that level's own rules;
 * at `leaps` and `free` it is not asked, since every interval is open there.
 */
export function atItsLevel(form: Form, blank: BlankLine, midis: readonly number[]): WrittenLine {
  const { wish } = blank;
  for (const level of LEVELS.slice(LEVELS.indexOf(wish.level))) {
    const line = fillLine({ ...blank, wish: { ...wish, level } }, midis);
    if (level === 'leaps' || level === 'free' || isClean(form, line)) return line;
  }
  return fillLine(blank, midis);
}

function isClean(form: Form, line: WrittenLine): boolean {
  const { level, choruses, slotsPerBeat, swing } = line;
  const { summary } = gradeTake(form, takeOfLine(line, TEMPO_BPM), {
    ...{ level, choruses, slotsPerBeat, swing },
    tempo: { kind: 'steady', tempoBpm: TEMPO_BPM },
  });
  return summary.clean === line.notes.length;
}
