/** A take's practice once more: as it was, at another tempo, or some bars of it alone. */

import type { TakeSetUp } from '../../../shared/bridge/index.ts';
import { type Form, prepareForm } from '../../core/chart/index.ts';
import { drillTempoBpm, type WeakPlace } from '../../core/progress/index.ts';

export interface Again {
  readonly form: Form;
  readonly setUp: TakeSetUp;
}

export interface AgainWish {
  readonly tempoBpm?: number;
  readonly bars?: TakeSetUp['bars'];
  /** Null: endless. */
  readonly choruses?: number | null;
}

/** What is to be played; null where the chart of the take cannot be read, which no stored take's is. */
export function playAgain(setUp: TakeSetUp, wish: AgainWish): Again | null {
  const { tempoBpm, bars = setUp.bars, choruses = setUp.grade.choruses } = wish;
  const prepared = prepareForm(setUp.chartText, { ...setUp, bars });
  if (!prepared.ok) return null;
  const tempo =
    tempoBpm === undefined ? setUp.grade.tempo : ({ kind: 'steady', tempoBpm } as const);
  const { keyAsSet: _moved, ...own } = setUp;
  return {
    form: prepared.value.form,
    setUp: { ...own, bars, grade: { ...setUp.grade, tempo, choruses } },
  };
}

/** The bars that broke most, alone, slower, again and again. */
export function drillAgain(setUp: TakeSetUp, { from, to }: WeakPlace): Again | null {
  const { tempo } = setUp.grade;
  if (tempo.kind !== 'steady') return null;
  const tempoBpm = drillTempoBpm(tempo.tempoBpm);
  return playAgain(setUp, { tempoBpm, bars: { from, to }, choruses: null });
}

/** `bar 7`, `bars 7 and 8`. */
export function barsInWords({ from, to }: WeakPlace): string {
  return from === to ? `bar ${from}` : `bars ${from} and ${to}`;
}
