/** Chromatic approaches for the levels that allow them: a note replaced by the semitone below the next one. */

import type { Form } from '../../src/core/chart/index.ts';
import { hasPc, viewPalette } from '../../src/core/grading/index.ts';
import type { DemoTake } from './faults.ts';
import type { LineNote } from './line.ts';
import { seededChance } from './random.ts';

/** Puts approaches into a line, about as many as the take asks for, never two in a row. */
export function addApproaches(
  form: Form,
  take: DemoTake,
  line: readonly LineNote[],
): readonly LineNote[] {
  const chance = seededChance(take.seed * 1000 + 2);
  let lastChanged = -2;
  return line.map((note, index) => {
    const next = line[index + 1];
    const wanted = chance.next() < take.approaches;
    if (!wanted || next === undefined || !note.ornament || !next.ornament) return note;
    if (lastChanged === index - 1) return note;
    const midi = next.midi - 1;
    const bar = form.bars.find((candidate) => candidate.bar === note.place.bar);
    const chord = bar?.chords.findLast(({ beat }) => beat <= note.place.beat);
    const palette = chord?.chosen?.palette;
    if (palette === undefined || hasPc(viewPalette(palette).mask, midi % 12)) return note;
    if (midi === line[index - 1]?.midi) return note;
    lastChanged = index;
    return { ...note, midi };
  });
}
