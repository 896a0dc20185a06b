/** An example line that goes on from what the player played before it. Pure. */

import type { Form } from '../../core/chart/index.ts';
import type { Report } from '../../core/grading/index.ts';
import {
  type LineProblem,
  type LineWish,
  type WrittenLine,
  writeLine,
} from '../../core/line/index.ts';
import type { Outcome } from '../../core/problem.ts';

/** The line's last note in a take: a spare one counts, a key doubled with another does not. Null where there is none. */
export function lastKeyOf({ slots, extras }: Pick<Report, 'slots' | 'extras'>): number | null {
  const spare = extras.filter(({ reason }) => reason === 'spare');
  const notes = [...slots.flatMap(({ note }) => note ?? []), ...spare];
  const [first, ...others] = notes;
  if (first === undefined) return null;
  return others.reduce((last, note) => (note.onsetMs >= last.onsetMs ? note : last), first).midi;
}

/**
 * Writes the line of a wish so that it goes on from a key, where that lies in the register and such a line exists; else
 * it begins freely.
 */
export function continuedLine(
  form: Form,
  wish: LineWish,
  lastMidi: number | null,
): Outcome<WrittenLine, LineProblem> {
  const { lowestMidi, highestMidi } = wish.register;
  if (lastMidi !== null && lastMidi >= lowestMidi && lastMidi <= highestMidi) {
    const line = writeLine(form, { ...wish, afterMidi: lastMidi });
    if (line.ok) return line;
  }
  return writeLine(form, wish);
}
