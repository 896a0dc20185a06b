/** How many choruses of a take are whole. Source of the share: `grading.md`, "Ready for a faster tempo". */

import { beatsPerBar, type Form } from '../chart/index.ts';
import type { Report, ReportBar } from '../grading/index.ts';
import { defaultSlotsPerBeat } from '../grid/index.ts';

/** Of the slots of a whole chorus at least so many were judged, whatever its meters. */
const WHOLE_SHARE = 0.9;

/**
 * Choruses of which at least 90 % of the slots were judged. At `free`, where no slot is owed, those that were played as far as their
 * last bar, with as many of their notes judged.
 */
export function wholeChoruses(report: Report, form: Form): number {
  const owed = report.level === 'free' ? null : slotsOwed(report, form);
  const lastBar = form.bars.at(-1)?.bar;
  const last = report.bars.at(-1);
  const choruses = [...Map.groupBy(report.bars, ({ chorus }) => chorus)];
  return choruses.filter(([chorus, bars]) => {
    const judged = bars.reduce((sum, { slots }) => sum + slots, 0);
    if (owed !== null) return owed > 0 && judged >= WHOLE_SHARE * owed;
    const isPlayedOut = last !== undefined && (chorus < last.chorus || last.bar === lastBar);
    return isPlayedOut && judged >= WHOLE_SHARE * bars.reduce((sum, bar) => sum + notesIn(bar), 0);
  }).length;
}

function notesIn({ slots, unjudged }: ReportBar): number {
  return slots + unjudged;
}

/**
 * Slots of one chorus. The report tells how many a beat has in its first meter, and not whether bars of other meters have as many
 * or eighths of their own: those owe what was seen of them, where less was.
 */
function slotsOwed({ bars, slotsPerBeat }: Report, form: Form): number {
  const isDefault = slotsPerBeat === defaultSlotsPerBeat(form.meter);
  const seen = new Map<number, number>();
  // The bar that was reached last may not be all there.
  for (const played of bars.slice(0, -1)) {
    seen.set(played.bar, Math.max(seen.get(played.bar) ?? 0, notesIn(played)));
  }
  return form.bars.reduce((sum, { bar, meter }) => {
    const inBeat = isDefault ? defaultSlotsPerBeat(meter) : slotsPerBeat;
    const slots = beatsPerBar(meter) * inBeat;
    return sum + Math.min(slots, seen.get(bar) ?? slots);
  }, 0);
}
