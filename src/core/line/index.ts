/** Example lines: written to be clean by the grader. The door to this folder. */

export * from './drill/index.ts';
export { LINE_SCHEMA, type LineJson, type LineJsonSlot, lineJson } from './line-json.ts';
export { lineMidi } from './line-midi.ts';
export { takeOfLine } from './line-take.ts';
export type { BlockedProblem, BlockingRule, LineProblem } from './problems.ts';
export { provableChanges } from './provable.ts';
export type { BeatRhythm, RhythmPart } from './rhythm.ts';
export { describeLineProblem } from './sentences.ts';
export { LINE_SHAPES, type LineShape, SHAPE_DENSITIES, USUAL_SHAPE } from './shapes.ts';
export {
  LINE_STYLES,
  type LineRules,
  type LineStyle,
  type LineWish,
  MAX_LINE_NOTES,
  type Register,
  RIGHT_HAND_REGISTER,
} from './wish.ts';
export { writeLine } from './write-line.ts';
export type { ClosingNote, NotePlace, WrittenLine, WrittenNote } from './written-line.ts';
