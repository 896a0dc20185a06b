/** Charts: their text, the form they unroll to, their transposition. The only door to this folder. */

export { formatBeats } from './beats.ts';
export * from './chart-json.ts';
export { MAX_CHART_LENGTH } from './check-text.ts';
export { chordContexts } from './chord-context.ts';
export * from './edit-bars.ts';
export * from './edit-text.ts';
export { estimateKey } from './estimate-key.ts';
export {
  FORM_MARK_NAMES,
  type FormMark,
  formatFormMark,
  type Jump,
  parseFormMark,
} from './form-marks.ts';
export { formatChart } from './format-chart.ts';
export { formatContent } from './format-content.ts';
export { TEMPO_RANGE_BPM } from './headers.ts';
export { type KeyProblem, parseKeyText } from './key-text.ts';
export * from './meter.ts';
export type * from './model.ts';
export { musicOf } from './music-of.ts';
export {
  type ChartReading,
  MAX_CHART_BARS,
  parseChart,
  quickFix,
  readChart,
} from './parse-chart.ts';
export * from './pickup.ts';
export { playOrder } from './play-order.ts';
export { type FormChoice, type PreparedForm, prepareForm } from './prepare-form.ts';
export { CHART_PROBLEM_CODES, type ChartProblem, type ChartProblemCode } from './problems.ts';
export { MAX_CHART_PROBLEMS } from './read-bars.ts';
export { describeMismatch, describeProblem } from './sentences.ts';
export { type ChartTree, printTree, readTree } from './syntax/tree.ts';
export * from './text-edit.ts';
export {
  type ModeProblem,
  moveGiven,
  transposeChart,
  transposeForm,
  transposeToEasierKey,
  transposeToKey,
} from './transpose-chart.ts';
export { planNames, sliceForm, type UnrollProblem, unrollForm, writtenForm } from './unroll.ts';
