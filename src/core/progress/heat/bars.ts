/** Where in the form it breaks: bars against rules, and bars against weeks. Takes of one chart, newest first: bars are its own. */

import { FAULTS, HEAT_RULES, type HeatRule } from '../../words.ts';
import { weekOf } from '../days.ts';
import type { PlayedTake } from '../history.ts';
import { type AddHits, type HeatAxis, type HeatMatrix, heatMatrix } from './matrix.ts';

/** Rules × bars: slots that carry the fault, of the bar's slots; for `change`, changes not on time of those counted. */
export function rulesByBars(takes: readonly PlayedTake[]): HeatMatrix<HeatRule, number> {
  const count = (add: AddHits): void => {
    for (const take of takes) {
      for (const { bar, slots, faults, arrivals } of take.evidence.chords ?? []) {
        const column = String(bar);
        for (const fault of FAULTS) add(take, fault, column, faults[fault] ?? 0, slots);
        if (arrivals === null) continue;
        const hits = arrivals.unproven + arrivals.lateBySlots.length;
        add(take, 'change', column, hits, hits + arrivals.onTime);
      }
    }
  };
  const rows: HeatAxis<HeatRule> = { values: HEAT_RULES, nameOf: (rule) => rule };
  const uncounted = takes.filter(({ evidence }) => evidence.chords === undefined);
  return heatMatrix(rows, barAxis(takes), count, uncounted);
}

/** Weeks × bars: slots that were not clean, of the bar's slots. A week is told by its Monday, see `weekOf`. */
export function weeksByBars(takes: readonly PlayedTake[]): HeatMatrix<number, number> {
  const week = ({ day }: PlayedTake): number => weekOf(day);
  const count = (add: AddHits): void => {
    for (const take of takes) {
      const row = String(week(take));
      for (const { bar, slots, clean } of take.evidence.bars) {
        add(take, row, String(bar), slots - clean, slots);
      }
    }
  };
  const weeks = takes.map(week);
  const values = weeks.length === 0 ? [] : everyWeek(Math.min(...weeks), Math.max(...weeks));
  return heatMatrix({ values, nameOf: String }, barAxis(takes), count);
}

/** Also the weeks without practice: a gap should be seen. */
function everyWeek(first: number, last: number): readonly number[] {
  return Array.from({ length: (last - first) / 7 + 1 }, (_, index) => first + 7 * index);
}

function barAxis(takes: readonly PlayedTake[]): HeatAxis<number> {
  const bars = new Set(takes.flatMap(({ evidence }) => evidence.bars.map(({ bar }) => bar)));
  return { values: [...bars].sort((one, other) => one - other), nameOf: String };
}
