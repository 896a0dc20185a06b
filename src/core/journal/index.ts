/** The journal: sessions of practice, their months, their table, and a report on them. The door to this folder. */

export {
  firstDayOf,
  formatDay,
  lastDayOf,
  type Month,
  monthOf,
  monthsLater,
  parseDay,
  sameDateLater,
} from './calendar.ts';
export { sessionsCsv, takesCsv } from './journal-csv.ts';
export {
  type ChartPlayed,
  type DatedRemark,
  EARLIEST_MS,
  type Journal,
  type JournalTake,
  LATEST_MS,
  type PracticeSession,
  type SessionRemark,
} from './model.ts';
export { type MonthDay, type MonthView, monthView } from './month-view.ts';
export { type PlayedInSpan, playedInSpan } from './played-in-span.ts';
export { findInJournal } from './search.ts';
export {
  describeMinutes,
  describePlayed,
  describeTempos,
} from './sentences.ts';
export { journalOf, SESSION_GAP_MS } from './sessions.ts';
export {
  type ChartReport,
  type PracticeReport,
  type Standings,
  type TeacherReport,
  teacherReport,
} from './teacher-report.ts';
