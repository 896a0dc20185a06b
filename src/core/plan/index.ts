/** Plans: worked rules, what a plan changes, palettes named and compared, keys in cycles. The door to this folder. */

export {
  applyRule,
  findRulePlaces,
  type LeftPlace,
  PLAN_RULES,
  type RulePlace,
  type RuleSurvey,
  surveyRule,
} from './apply-rule.ts';
export { comparePlan, type PlanDifference } from './compare-plan.ts';
export { type AlternativeGroup, groupAlternatives, PALETTE_COLOURS } from './group-alternatives.ts';
export { KEY_CYCLES, type KeyCycle, keyCycle, nextKey } from './key-cycle.ts';
export { type PaletteChange, paletteChange, type ToneChange } from './palette-change.ts';
export { planByRule } from './plan-by-rule.ts';
export { type PlanProblem, type PlanProblemCode, planNameProblem } from './plan-problem.ts';
export type { PlanRule } from './plan-rule.ts';
export {
  type ChordPlace,
  PALETTE_REACHES,
  type PaletteReach,
  setPalette,
} from './set-palette.ts';
export { describeLeft, type WhyLeft } from './why-left.ts';
export { writtenBars } from './written.ts';
