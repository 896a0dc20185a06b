/** Helpers of the plan tests: rules by name, and what a plan says bar by bar. */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Chart, formatContent } from '../../../src/core/chart/index.ts';
import {
  applyRule,
  type ChordPlace,
  PLAN_RULES,
  type PlanRule,
} from '../../../src/core/plan/index.ts';
import { chartOf } from '../chart/reading.ts';

/** The name of the plan the tests write; no chart has one of this name. */
export const PLAN = 'a plan of its own';

export function ruleOf(id: string): PlanRule {
  const rule = PLAN_RULES.find((one) => one.id === id);
  if (rule === undefined) throw new Error(`no rule ${id}`);
  return rule;
}

/** The chart with a rule applied in a plan, the tests' own unless named, everywhere unless places are given. */
export function applied(
  chart: Chart,
  rule: PlanRule,
  places: readonly ChordPlace[] | null = null,
  plan = PLAN,
): Chart {
  return applyRule(chart, plan, rule, places);
}

/** Each bar of the tests' plan as text; empty when the chart does not have it. */
export function barsOfPlan(chart: Chart, plan = PLAN): readonly string[] {
  const written = chart.sections.flatMap(({ bars }) => bars);
  const contents = chart.plans.find(({ name }) => name === plan)?.bars ?? [];
  return written.flatMap((bar, index) => {
    const content = contents[index];
    return content === undefined ? [] : [formatContent({ ...bar, content })];
  });
}

const STARTER_FOLDER = join(import.meta.dirname, '../../../shared/charts');

/** The charts that come with the program. */
export const STARTER_CHARTS: readonly Chart[] = readdirSync(STARTER_FOLDER).map((file) =>
  chartOf(readFileSync(join(STARTER_FOLDER, file), 'utf8')),
);
