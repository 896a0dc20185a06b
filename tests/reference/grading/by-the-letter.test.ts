/** The grader beside a second one, written from the text of `grading.md` alone. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Form } from '../../../src/core/chart/model.ts';
import { type GradeSettings, gradeTake } from '../../../src/core/grading/index.ts';
import type { TakeEvents } from '../../../src/core/take/model.ts';
import { LEVELS } from '../../../src/core/words.ts';
import {
  anyBreaks,
  anyForm,
  anySettings,
  anySourcedSettings,
  anyTake,
  withSources,
} from '../../helpers/arbitrary-take.ts';
import { runs } from '../../helpers/runs.ts';
import { anyMixedForm, sloppyTake } from './arbitrary-performance.ts';
import { gradeByTheLetter } from './by-the-letter.ts';

/** Figures agree to a billionth: the two add up in different orders. */
function rounded(value: unknown): unknown {
  return JSON.parse(
    JSON.stringify(value, (_, part) =>
      typeof part === 'number' && !Number.isInteger(part) ? Math.round(part * 1e6) / 1e6 + 0 : part,
    ),
  );
}

/** Off every edge: two ways of adding up decide those differently, and they have tests of their own. */
const OFF_EDGES_MS = 0.0137;

function compare(form: Form, settings: GradeSettings, given: TakeEvents): void {
  const take = {
    ...given,
    events: given.events.map((event) => ({ ...event, atMs: event.atMs + OFF_EDGES_MS })),
    endMs: given.endMs + OFF_EDGES_MS,
  };
  expect(rounded(gradeTake(form, take, settings))).toEqual(
    rounded(gradeByTheLetter(form, take, settings)),
  );
}

const RUNS = { numRuns: Number(process.env['REFERENCE_RUNS'] ?? runs(20_000)) };

describe.each(LEVELS)('at %s the report is that of the text', (level) => {
  const settingsOfLevel = anySettings.map((settings) => ({ ...settings, level }));

  test('for keys struck anywhere', () => {
    fc.assert(fc.property(anyForm, settingsOfLevel, anyTake, compare), RUNS);
  });

  test('for keys of several keyboards, with breaks', () => {
    const sourced = anySourcedSettings.map((settings) => ({ ...settings, level }));
    fc.assert(fc.property(anyForm, sourced, withSources(anyTake), compare), RUNS);
  });

  test('for lines played over mixed meters, nearly as they should be', () => {
    const performance = fc.tuple(anyMixedForm, settingsOfLevel).chain(([form, settings]) =>
      fc.tuple(
        fc.constant(form),
        fc.constant(settings),
        fc
          .tuple(sloppyTake(form, settings), anyBreaks)
          .map(([take, breaks]) => ({ ...take, breaks })),
      ),
    );
    fc.assert(
      fc.property(performance, ([form, settings, take]) => compare(form, settings, take)),
      RUNS,
    );
  });
});
