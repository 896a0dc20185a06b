/** What a user can get wrong about a plan, as values; `describeProblem` of the chart's door makes sentences of them. */

import type { Chart } from '../chart/index.ts';
import { nearestWordAnyCase } from '../nearest-word.ts';
import { PLAIN } from '../words.ts';

export type PlanProblemCode =
  | 'emptyPlanName'
  | 'reservedPlanName'
  | 'takenPlanName'
  | 'unwritablePlanName'
  | 'unknownRule'
  | 'unknownPlace';

/** What was read, what was expected, and what would do instead (null when nothing is near). */
export interface PlanProblem {
  readonly code: PlanProblemCode;
  readonly read: string;
  readonly expected: string;
  readonly suggestion: string | null;
}

/**
 * Whether a plan of this name may be written: null when it may, being there already or new. Otherwise the problem: no
 * name (`emptyPlanName`), that of the chart itself (`reservedPlanName`), that of another plan but for capitals
 * (`takenPlanName`: build upon that one), or one that a line of chart text cannot hold (`unwritablePlanName`).
 */
export function planNameProblem(chart: Chart, name: string): PlanProblem | null {
  if (chart.plans.some((plan) => plan.name === name)) return null;
  const problem = (code: PlanProblemCode, expected: string, suggestion: string | null = null) => ({
    code,
    read: name,
    expected,
    suggestion,
  });
  const lower = name.toLowerCase();
  const writable = writableName(name);
  if (writable === '') return problem('emptyPlanName', 'a name for the plan, such as side door');
  if (lower === PLAIN) {
    return problem('reservedPlanName', `a name other than ${PLAIN}, which is the chart itself`);
  }
  const taken = chart.plans.find((plan) => plan.name.toLowerCase() === lower);
  if (taken !== undefined) {
    return problem('takenPlanName', 'a name that differs in more than capitals', taken.name);
  }
  if (writable === name) return null;
  const expected = 'a name in one line, without a # that starts a comment';
  return problem('unwritablePlanName', expected, writable);
}

/** Control characters and line ends; noncharacters are in no text file. */
const NOT_IN_A_LINE = /[\p{Cc}\uFFFE\uFFFF]+/gu;

/** The nearest name that a header line of chart text can hold. */
function writableName(name: string): string {
  return name
    .replace(NOT_IN_A_LINE, ' ')
    .replace(/(^|\s)#/gu, '$1♯')
    .trim();
}

/** No rule of this id. */
export function unknownRule(id: string, known: readonly string[]): PlanProblem {
  const expected = `one of the rules ${known.join(', ')}`;
  return { code: 'unknownRule', read: id, expected, suggestion: nearestWordAnyCase(id, known) };
}
