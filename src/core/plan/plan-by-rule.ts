/** A plan made by a rule that is asked for by name: what a command or a file says, with everything that can be wrong. */

import type { Chart } from '../chart/index.ts';
import { failure, type Outcome, success } from '../problem.ts';
import { applyRule, findRulePlaces, PLAN_RULES, type RulePlace } from './apply-rule.ts';
import { type PlanProblem, planNameProblem, unknownRule } from './plan-problem.ts';
import { type ChordPlace, isSamePlace } from './set-palette.ts';

/**
 * The chart with a rule applied in a plan as `applyRule` does it: everywhere, or at the places given. Problems, all of
 * them at once: those of the plan's name, `unknownRule`, and `unknownPlace` for each place where the rule finds nothing
 * to do. The chart that was given stays: keeping it is the way back.
 */
export function planByRule(
  chart: Chart,
  plan: string,
  ruleId: string,
  places: readonly ChordPlace[] | null = null,
): Outcome<Chart, PlanProblem> {
  const rule = PLAN_RULES.find(({ id }) => id === ruleId);
  const ids = PLAN_RULES.map(({ id }) => id);
  const name = planNameProblem(chart, plan);
  const problems = [
    ...(name === null ? [] : [name]),
    ...(rule === undefined ? [unknownRule(ruleId, ids)] : []),
  ];
  if (rule === undefined || problems.length > 0) return failure(...problems);
  if (places === null) return success(applyRule(chart, plan, rule, null));
  const found = findRulePlaces(chart, plan, rule);
  const unknown = places.filter((place) => !found.some((one) => isSamePlace(one, place)));
  if (unknown.length > 0) return failure(...unknown.map((place) => unknownPlace(place, found)));
  return success(applyRule(chart, plan, rule, places));
}

/** Bars and chords count from 1 where a reader meets them. */
function placeText({ bar, chord }: ChordPlace): string {
  return `chord ${chord + 1} of written bar ${bar + 1}`;
}

const MOST_LISTED = 8;

function unknownPlace(place: ChordPlace, found: readonly RulePlace[]): PlanProblem {
  const listed = found.slice(0, MOST_LISTED).map(placeText).join(', ');
  const more = found.length > MOST_LISTED ? ` and ${found.length - MOST_LISTED} more` : '';
  return {
    code: 'unknownPlace',
    read: placeText(place),
    expected:
      found.length === 0
        ? 'another rule: this one has no place here'
        : `one of its places: ${listed}${more}`,
    suggestion: null,
  };
}
