/** Drills: lines by rule instead of by taste. The door to this folder. */

export type { DrillBlockedProblem, DrillProblem, DrillRule } from './drill-problem.ts';
export { describeDrillProblem } from './drill-sentences.ts';
export { DRILL_STYLES, DRILLS, type Drill, type DrillStyle, drillOf } from './drills.ts';
export { type DrillWish, writeDrill } from './write-drill.ts';
