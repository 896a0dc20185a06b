/** Lines written over many forms, to be counted. */

import type { Form } from '../../../src/core/chart/index.ts';
import { type LineWish, writeLine } from '../../../src/core/line/index.ts';
import type { Counted } from './figures.ts';
import { forms16, starterForms } from './many-forms.ts';

/** How many forms of 16 bars there are beside the program's own charts. */
const MADE_FORMS = 24;

const MANY_FORMS = [...starterForms(), ...forms16(MADE_FORMS)];

/** One chorus over each form for so many seeds: of all forms 640 bars a seed. */
export function countedLines(
  wish: Pick<LineWish, 'level' | 'style' | 'density'>,
  seeds: number,
  forms: readonly Form[] = MANY_FORMS,
): readonly Counted[] {
  return forms.flatMap((form) =>
    Array.from({ length: seeds }, (_, seed) => {
      const line = writeLine(form, {
        ...{ choruses: 1, slotsPerBeat: null, swing: 1, startMidi: null, direction: 0, seed },
        register: { lowestMidi: 60, highestMidi: 84 },
        ...wish,
      });
      if (!line.ok) throw new Error(`no line over ${form.title}`);
      return { form, line: line.value };
    }),
  );
}
