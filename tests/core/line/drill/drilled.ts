/** Drills of every style over the same random charts, written once for all laws. */

import fc from 'fast-check';
import type { Form } from '../../../../src/core/chart/index.ts';
import {
  type DrillProblem,
  type DrillStyle,
  type DrillWish,
  type WrittenLine,
  writeDrill,
} from '../../../../src/core/line/index.ts';
import { arbitraryForm, arbitraryFormOf, arbitraryWish } from '../../../helpers/arbitrary-wish.ts';
import { runs } from '../../../helpers/runs.ts';
import { type Slot, slotsOf } from './drilling.ts';

const SEED = 20_261_126;
export const CASES = runs(150, 45);

/** Any palettes a writer may name and any register; and palettes the program chose, with room of two octaves and a half. */
export const ANY = fc.sample(fc.tuple(arbitraryForm, arbitraryWish), {
  numRuns: CASES,
  seed: SEED,
});
export const ROOMY = fc.sample(
  fc.tuple(
    arbitraryFormOf({ givenPalettes: false }),
    arbitraryWish.map((wish) => ({ ...wish, register: { lowestMidi: 50, highestMidi: 80 } })),
  ),
  { numRuns: CASES, seed: SEED },
);

interface WrittenDrill {
  readonly form: Form;
  readonly wish: DrillWish;
  readonly line: WrittenLine;
  readonly midis: readonly number[];
  readonly slots: readonly Slot[];
}

interface Drilled {
  readonly written: readonly WrittenDrill[];
  readonly problems: readonly DrillProblem[];
}

export function drillAll(
  cases: readonly (readonly [Form, DrillWish])[],
  style: DrillStyle,
): Drilled {
  const written: WrittenDrill[] = [];
  const problems: DrillProblem[] = [];
  for (const [form, wish] of cases) {
    const line = writeDrill(form, style, wish);
    if (!line.ok) {
      problems.push(...line.problems);
      continue;
    }
    const midis = line.value.notes.map(({ midi }) => midi);
    written.push({ form, wish, line: line.value, midis, slots: slotsOf(form, wish) ?? [] });
  }
  return { written, problems };
}

const known = new Map<DrillStyle, readonly WrittenDrill[]>();

/** Every drill of a style that could be written. */
function drills(style: DrillStyle): readonly WrittenDrill[] {
  const found = known.get(style) ?? drillAll([...ANY, ...ROOMY], style).written;
  known.set(style, found);
  return found;
}

/** Holds a law against every drill of a style that could be written. */
export function forEveryDrill(style: DrillStyle, law: (drill: WrittenDrill) => void): void {
  drills(style).forEach(law);
}
