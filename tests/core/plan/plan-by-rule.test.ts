/** Plans by the id of a rule, and what can be wrong with the asking. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatChart, parseChart } from '../../../src/core/chart/index.ts';
import { findRulePlaces, planByRule, planNameProblem } from '../../../src/core/plan/index.ts';
import { chartOf } from '../chart/reading.ts';
import { applied, PLAN, ruleOf } from './planning.ts';

const CHART = chartOf(
  'title: a\nkey: C\nmeter: 4/4\n| Dm7 | G7 | Cmaj7 | A7 |\n\nplan: Side Door\n| % | % | % | % |\n',
);

function problems(plan: string, id: string, bar: number | null = null): readonly string[] {
  const outcome = planByRule(CHART, plan, id, bar === null ? null : [{ bar, chord: 0 }]);
  return outcome.ok ? [] : outcome.problems.map(({ code, suggestion }) => `${code}: ${suggestion}`);
}

describe('a plan by the id of a rule', () => {
  test('is the plan that the rule makes, everywhere or where it is wished', () => {
    const rule = ruleOf('tritone-substitute');
    expect(planByRule(CHART, PLAN, rule.id)).toEqual({ ok: true, value: applied(CHART, rule) });
    const one = findRulePlaces(CHART, PLAN, rule).slice(0, 1);
    expect(planByRule(CHART, PLAN, rule.id, one)).toEqual({
      ok: true,
      value: applied(CHART, rule, one),
    });
    expect(applied(CHART, rule, one)).not.toEqual(applied(CHART, rule));
  });

  test('is refused with everything that is wrong', () => {
    expect(problems('', 'back-door')).toEqual(['emptyPlanName: null']);
    expect(problems(' \t', 'back-door')).toEqual(['emptyPlanName: null']);
    expect(problems('Plain', 'back-door')).toEqual(['reservedPlanName: null']);
    expect(problems('side door', 'back-door')).toEqual(['takenPlanName: Side Door']);
    expect(problems('one\n# two ', 'back-door')).toEqual(['unwritablePlanName: one ♯ two']);
    expect(problems('new', 'back-doors')).toEqual(['unknownRule: back-door']);
    expect(problems('plain', 'nothing like it')).toEqual([
      'reservedPlanName: null',
      'unknownRule: null',
    ]);
    expect(problems('Side Door', 'back-door', 0)).toEqual(['unknownPlace: null']);
    expect(problems('Side Door', 'back-door', 1)).toEqual([]);
  });
});

test('a name that may be written is read back, whatever it is', () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string({ unit: 'grapheme', maxLength: 12 }),
        fc.string({ unit: fc.constantFrom('a', ' ', '#', '|', ':', '\n', '\r', '\t', '[', '%') }),
      ),
      (name) => {
        const chart = chartOf('title: a\nkey: C\nmeter: 4/4\n| C |\n');
        const problem = planNameProblem(chart, name);
        const planned = { ...chart, plans: [{ name, bars: [{ kind: 'same' as const }] }] };
        const read = parseChart(formatChart(planned));
        if (problem === null) expect(read).toEqual({ ok: true, value: planned });
        else if (problem.suggestion !== null) {
          expect(planNameProblem(chart, problem.suggestion)).toBeNull();
        }
      },
    ),
    { numRuns: 1000 },
  );
});
