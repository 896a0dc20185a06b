/** Which unproven changes tell nothing of the player. Source: `grading.md`, "Ready for a faster tempo". */

import type { Form } from '../chart/index.ts';
import type { Report, ReportChange } from '../grading/index.ts';
import { provableChanges } from '../line/index.ts';

/**
 * Tells of the changes of a report whether they are left out of the share on time. Above `thirds` a line may leap over the new notes
 * and be none the worse, so no unproven change counts; below, one counts as not on time unless it could not have been proven.
 */
export function changesLeftOut(report: Report, form: Form): (change: ReportChange) => boolean {
  const { level, slotsPerBeat } = report;
  if (level === 'leaps' || level === 'free') return ({ arrival }) => arrival === 'unproven';
  if (report.summary.changes.unproven === 0) return () => false;
  const isProvable = provableChanges(form, level, slotsPerBeat);
  return ({ arrival, bar, beat }) => arrival === 'unproven' && !isProvable(bar, beat);
}
