/** Charts: their text, their form, their transposition. The only door to this folder. */

export * from './meter.ts';
export type * from './model.ts';
export { parseChart } from './parse-chart.ts';
export type { ChartProblem, ChartProblemCode } from './problems.ts';
export { describeProblem } from './sentences.ts';
