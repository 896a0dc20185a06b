/** Example lines: written to be clean by the grader. The door to this folder. */

export * from './drill/index.ts';
export { takeOfLine } from './line-take.ts';
export type { BlockedProblem, BlockingRule, LineProblem } from './problems.ts';
export { provableChanges } from './provable.ts';
export { describeLineProblem } from './sentences.ts';
export {
  type LineRules,
  type LineWish,
  MAX_LINE_NOTES,
  type Register,
  RIGHT_HAND_REGISTER,
} from './wish.ts';
export { writeLine } from './write-line.ts';
export type { WrittenLine, WrittenNote } from './written-line.ts';
