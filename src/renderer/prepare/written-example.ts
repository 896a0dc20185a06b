/** What is written as an example: a line at the level chosen, or a drill; and where it begins. Pure. */

import type { Form } from '../../core/chart/index.ts';
import {
  type DrillStyle,
  describeDrillProblem,
  describeLineProblem,
  type LineWish,
  type WrittenLine,
  writeDrill,
  writeLine,
} from '../../core/line/index.ts';
import { failure, type Outcome } from '../../core/problem.ts';

export const BEGINNINGS = ['anywhere', 'onKey', 'afterKey'] as const;
export type Beginning = (typeof BEGINNINGS)[number];

/** Where a line is to begin, by the key played last; anywhere as long as none was. */
export function beginAt(
  beginning: Beginning,
  keyMidi: number | null,
): Pick<LineWish, 'startMidi' | 'afterMidi'> {
  return {
    startMidi: beginning === 'onKey' ? keyMidi : null,
    afterMidi: beginning === 'afterKey' ? keyMidi : null,
  };
}

/** Writes a drill of a style, or with null a line at the wish's level. Problems are sentences. */
export function writeExample(
  form: Form,
  style: DrillStyle | null,
  wish: LineWish,
): Outcome<WrittenLine, string> {
  if (style === null) {
    const line = writeLine(form, wish);
    return line.ok ? line : failure(...line.problems.map(describeLineProblem));
  }
  const drill = writeDrill(form, style, wish);
  return drill.ok ? drill : failure(...drill.problems.map(describeDrillProblem));
}
