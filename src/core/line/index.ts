/** Example lines: written to be clean by the grader. The door to this folder. */

export * from './drill/index.ts';
export {
  type LineBeat,
  type LineMeasure,
  lineMeasures,
  type MeasureNote,
  type NoteValue,
} from './line-measures.ts';
export { writeLineMusicXml } from './line-musicxml.ts';
export { takeOfLine } from './line-take.ts';
export type { BlockedProblem, BlockingRule, LineProblem } from './problems.ts';
export { describeLineProblem } from './sentences.ts';
export { type LineRules, type LineWish, MAX_LINE_NOTES, type Register } from './wish.ts';
export { writeLine } from './write-line.ts';
export type { WrittenLine, WrittenNote } from './written-line.ts';
