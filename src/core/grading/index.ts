export { createGrader, type Grader, type GraderListener, gradeTake } from './grader.ts';
export type { HeardNote } from './heard.ts';
export { type IntervalVerdict, judgeInterval } from './interval.ts';
export {
  createLiveGrader,
  DELIVERY_SLACK_MS,
  type LiveGrader,
  type LiveListener,
} from './live-grader.ts';
export { hasPc, type PaletteView, viewPalette } from './palette-view.ts';
export {
  applyReading,
  type Graded,
  isDoubting,
  type Reading,
  type ReadingDecision,
  type ReadingValue,
  type ReadTake,
  readTake,
  slotAxis,
} from './readings/index.ts';
export {
  REPORT_SCHEMA,
  type Report,
  type ReportBar,
  type ReportBass,
  type ReportChange,
  type ReportClosing,
  type ReportExtra,
  type ReportNote,
  type ReportSlot,
  type ReportSummary,
} from './report.ts';
export { CSV_HEADER, reportCsv, textCell } from './report-csv.ts';
export { type CompleteSettings, completeSettings, type GradeSettings } from './settings.ts';
export { isGradable, MOST_SLOTS, NOT_GRADABLE, slotsOwed } from './size.ts';
export { sumByBar } from './sum-by-bar.ts';
export { slotToleranceMs, timingFault } from './timing.ts';
