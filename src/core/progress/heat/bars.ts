/** Where in the form it breaks: bars against rules, and bars against weeks. Takes of one chart, newest first: bars are its own. */

import { FAULTS } from '../../words.ts';
import { dayOf, weekOf } from '../days.ts';
import type { PlayedTake } from '../history.ts';
import { type HeatAxis, type HeatEntry, type HeatMatrix, heatMatrix } from './matrix.ts';

/** The faults of a slot, and `change`: a change that did not arrive on time. */
export const HEAT_RULES = [...FAULTS, 'change'] as const;
export type HeatRule = (typeof HEAT_RULES)[number];

/** Rules × bars: slots that carry the fault, of the bar's slots; for `change`, changes not on time of those counted. */
export function rulesByBars(takes: readonly PlayedTake[]): HeatMatrix<HeatRule, number> {
  const entries = takes.flatMap((take) =>
    (take.evidence.chords ?? []).flatMap(({ bar, slots, faults, arrivals }) => {
      const column = String(bar);
      const ofFaults = FAULTS.map((fault): HeatEntry => {
        return { take, row: fault, column, hits: faults[fault] ?? 0, of: slots };
      });
      if (arrivals === null) return ofFaults;
      const hits = arrivals.unproven + arrivals.lateBySlots.length;
      return [...ofFaults, { take, row: 'change', column, hits, of: hits + arrivals.onTime }];
    }),
  );
  const rows: HeatAxis<HeatRule> = { values: HEAT_RULES, nameOf: (rule) => rule };
  const uncounted = takes.filter(({ evidence }) => evidence.chords === undefined);
  return heatMatrix(rows, barAxis(takes), entries, uncounted);
}

/** Weeks × bars: slots that were not clean, of the bar's slots. A week is told by its Monday, see `weekOf`. */
export function weeksByBars(
  takes: readonly PlayedTake[],
  utcOffsetMinutes: number,
): HeatMatrix<number, number> {
  const week = ({ evidence }: PlayedTake): number =>
    weekOf(dayOf(evidence.playedAtMs, utcOffsetMinutes));
  const entries = takes.flatMap((take) =>
    take.evidence.bars.map(({ bar, slots, clean }): HeatEntry => {
      return { take, row: String(week(take)), column: String(bar), hits: slots - clean, of: slots };
    }),
  );
  const weeks = takes.map(week);
  const values = weeks.length === 0 ? [] : everyWeek(Math.min(...weeks), Math.max(...weeks));
  return heatMatrix({ values, nameOf: String }, barAxis(takes), entries);
}

/** Also the weeks without practice: a gap should be seen. */
function everyWeek(first: number, last: number): readonly number[] {
  return Array.from({ length: (last - first) / 7 + 1 }, (_, index) => first + 7 * index);
}

function barAxis(takes: readonly PlayedTake[]): HeatAxis<number> {
  const bars = new Set(takes.flatMap(({ evidence }) => evidence.bars.map(({ bar }) => bar)));
  return { values: [...bars].sort((one, other) => one - other), nameOf: String };
}
