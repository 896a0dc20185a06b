/**
 * The form as one line: which bars of which chorus hold, which broke and how, and where the line was interrupted last. Grows with
 * the verdicts of a take; each is looked at once.
 */

import type { Form } from '../../core/chart/index.ts';
import type { ReportChange, ReportSlot } from '../../core/grading/index.ts';
import { BREAKS, type Break } from './marks.ts';

export type BarState = 'toCome' | 'held' | Break;

export interface FormMap {
  /** Takes what is new; arrays that only grow. */
  take(verdicts: {
    readonly settled: readonly ReportSlot[];
    readonly changes: readonly ReportChange[];
  }): void;
  /** By the bar's place in the form, from 0. */
  stateOf(chorus: number, barAt: number): BarState;
  /** Clean slots and graded ones up to the last that was played, and the bar of the last gap. */
  totals(): FormTotals;
}

export interface FormTotals {
  readonly clean: number;
  readonly graded: number;
  /** As numbered in the form; null: the line was never interrupted. */
  readonly lastGapBar: number | null;
}

export function createFormMap(form: Form): FormMap {
  const firstBar = form.bars[0]?.bar ?? 1;
  const states = new Map<string, BarState>();
  let slotsSeen = 0;
  let changesSeen = 0;
  let counted = { clean: 0, graded: 0, lastGapBar: null as number | null };
  /** Slots nobody filled count once the line goes on after them. */
  let waiting: ReportSlot[] = [];

  const keyOf = (chorus: number, barAt: number): string => `${chorus} ${barAt}`;
  function note(chorus: number, bar: number, state: BarState): void {
    const key = keyOf(chorus, bar - firstBar);
    const before = states.get(key) ?? 'toCome';
    if (rankOf(state) > rankOf(before)) states.set(key, state);
  }
  function count(slot: ReportSlot): void {
    const { chorus, bar, faults, judged } = slot;
    if (!judged) return;
    const { clean, graded, lastGapBar } = counted;
    counted = {
      clean: clean + (faults.length === 0 ? 1 : 0),
      graded: graded + 1,
      lastGapBar: faults.includes('gap') ? bar : lastGapBar,
    };
    for (const fault of faults) note(chorus, bar, fault);
  }
  return {
    take({ settled, changes }) {
      for (const slot of settled.slice(slotsSeen)) {
        waiting.push(slot);
        if (slot.note === null) continue;
        note(slot.chorus, slot.bar, 'held');
        for (const each of waiting) count(each);
        waiting = [];
      }
      for (const { chorus, bar, arrival } of changes.slice(changesSeen)) {
        if (arrival === 'late') note(chorus, bar, 'lateChange');
      }
      slotsSeen = settled.length;
      changesSeen = changes.length;
    },
    stateOf: (chorus, barAt) => states.get(keyOf(chorus, barAt)) ?? 'toCome',
    totals: () => counted,
  };
}

/** The graver the higher. */
function rankOf(state: BarState): number {
  if (state === 'toCome') return 0;
  return state === 'held' ? 1 : 1 + BREAKS.length - BREAKS.indexOf(state);
}

/** `41 of 44 clean`; what is not there yet is not said. */
export function cleanWords({ clean, graded }: FormTotals): string {
  return graded === 0 ? '' : `${clean} of ${graded} clean`;
}

/** `unbroken since bar 3`: where the line was interrupted last. */
export function unbrokenWords({ graded, lastGapBar }: FormTotals): string {
  if (graded === 0) return '';
  return lastGapBar === null ? 'unbroken' : `unbroken since bar ${lastGapBar}`;
}
