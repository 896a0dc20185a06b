/** A take as two heatmaps: faults × bars over all choruses, and choruses × bars. Pure. */

import type { Form } from '../../../core/chart/index.ts';
import type { Report } from '../../../core/grading/index.ts';
import { FAULTS } from '../../../core/words.ts';

export interface HeatCell {
  readonly bar: number;
  /** The chorus a click leads to: the worst of the row, or its own. Null: nothing to show. */
  readonly chorus: number | null;
  /** 0 to 1; null where nothing was played. */
  readonly strength: number | null;
  /** What the cell counts, for the eye. */
  readonly figure: string;
  /** The same in words. */
  readonly words: string;
}

export interface HeatRow {
  readonly name: string;
  readonly cells: readonly HeatCell[];
}

const ROWS = [...FAULTS, 'lateChanges'] as const;
type RowName = (typeof ROWS)[number];
const ROW_WORDS: Readonly<Record<RowName, string>> = {
  gap: 'gap',
  early: 'early',
  late: 'late',
  outside: 'outside',
  interval: 'interval',
  extra: 'extra',
  lateChanges: 'late change',
};

/** Rows of faults; a cell is as strong as the share of the bar's slots, or changes, that have the fault. */
export function faultRows(report: Report, form: Form): readonly HeatRow[] {
  return ROWS.map((name) => ({
    name: ROW_WORDS[name],
    cells: form.bars.map(({ bar }) => {
      const played = report.bars.filter((entry) => entry.bar === bar);
      const slots = played.reduce((sum, entry) => sum + entry.slots, 0);
      const count = played.reduce((sum, entry) => sum + entry[name], 0);
      const worst = played.toSorted((a, b) => b[name] - a[name])[0];
      const of = name === 'lateChanges' ? played.length : slots;
      return {
        bar,
        chorus: count === 0 ? null : (worst?.chorus ?? null),
        strength: of === 0 ? null : Math.min(1, (count / of) * (name === 'lateChanges' ? 1 : 3)),
        figure: count === 0 ? '' : String(count),
        words: `bar ${bar}: ${count} ${ROW_WORDS[name]}`,
      };
    }),
  }));
}

/** Rows of choruses; a cell is as strong as the share of its slots that was not clean. */
export function chorusRows(report: Report, form: Form): readonly HeatRow[] {
  const choruses = [...new Set(report.bars.map(({ chorus }) => chorus))];
  return choruses.map((chorus) => ({
    name: `chorus ${chorus}`,
    cells: form.bars.map(({ bar }) => {
      const entry = report.bars.find((one) => one.bar === bar && one.chorus === chorus);
      if (entry === undefined || entry.slots === 0) {
        return { bar, chorus: null, strength: null, figure: '', words: `bar ${bar}: not played` };
      }
      const broken = entry.slots - entry.clean;
      return {
        bar,
        chorus,
        strength: Math.min(1, (broken / entry.slots) * 2),
        figure: broken === 0 ? '' : String(broken),
        words: `bar ${bar}: ${entry.clean} of ${entry.slots} clean`,
      };
    }),
  }));
}
