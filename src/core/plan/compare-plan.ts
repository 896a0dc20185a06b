/** What a plan makes of the chart, bar by bar: for previews, and for the marks on the page. */

import {
  type Chart,
  type FormBar,
  type FormChord,
  formatContent,
  playOrder,
  type UnrollProblem,
  unrollForm,
} from '../chart/index.ts';
import { type Outcome, success } from '../problem.ts';
import { PLAIN } from '../words.ts';
import { isSameChord } from './same-chord.ts';
import { isSamePalette } from './same-palette.ts';
import { chordsOf, planChords, writtenBars } from './written.ts';

/** One written bar in which a plan is heard or written otherwise than `plain`. */
export interface PlanDifference {
  /** The written bar, from 0. */
  readonly bar: number;
  /** Where the difference is heard: bar numbers of the unrolled form, from 1, ascending. Those of all its playings when it is only written. */
  readonly formBars: readonly number[];
  /**
   * `chords`: other chords, or on other beats. `palettes`: the same chords in other palettes. `names`: a palette is
   * named, or a chord spelled, where `plain` leaves it otherwise; nothing else is heard.
   */
  readonly kind: 'chords' | 'palettes' | 'names';
  /** False where the plan has `%` and a palette differs all the same, because the chords around it do. */
  readonly isWritten: boolean;
  /** The chords of `plain` and of the plan with their palettes, at the first of `formBars`. */
  readonly before: readonly FormChord[];
  readonly after: readonly FormChord[];
}

/**
 * The bars in which a plan differs from `plain`, in written order; none for `plain` itself and for a plan that keeps
 * every bar. Problem: `unknownPlan`.
 */
export function comparePlan(
  chart: Chart,
  plan: string,
): Outcome<readonly PlanDifference[], UnrollProblem> {
  const [before, after] = [unrollForm(chart, PLAIN), unrollForm(chart, plan)];
  if (!after.ok) return after;
  if (!before.ok) return before;
  const order = playOrder(writtenBars(chart));
  const playings = Map.groupBy(
    order.flatMap((bar, at): readonly Playing[] => {
      const [one, other] = [before.value.bars[at], after.value.bars[at]];
      return one === undefined || other === undefined ? [] : [{ bar, before: one, after: other }];
    }),
    ({ bar }) => bar,
  );
  const plain = writtenTexts(chart, PLAIN);
  return success(
    writtenTexts(chart, plan).flatMap((text, bar) =>
      difference(bar, playings.get(bar) ?? [], text !== plain[bar]),
    ),
  );
}

/** A written bar each time it is played. */
interface Playing {
  readonly bar: number;
  readonly before: FormBar;
  readonly after: FormBar;
}

/** Each written bar as text, `%` written out. */
function writtenTexts(chart: Chart, plan: string): readonly string[] {
  const chords = planChords(chart, plan);
  return writtenBars(chart).map(({ meter }, bar) =>
    formatContent({ content: chordsOf(chords[bar] ?? []), meter }),
  );
}

function difference(
  bar: number,
  playings: readonly Playing[],
  isWritten: boolean,
): readonly PlanDifference[] {
  const heard = playings.filter(({ before, after }) => !soundsSame(before.chords, after.chords));
  const [first] = heard.length > 0 ? heard : playings;
  if (first === undefined || (heard.length === 0 && !isWritten)) return [];
  const { chords: before } = first.before;
  const { chords: after } = first.after;
  const formBars = (heard.length > 0 ? heard : playings).map(({ after: own }) => own.bar);
  const kind = kindOf(before, after);
  return [{ bar, formBars, kind, isWritten, before, after }];
}

function kindOf(before: readonly FormChord[], after: readonly FormChord[]): PlanDifference['kind'] {
  if (!hasSameChords(before, after)) return 'chords';
  return soundsSame(before, after) ? 'names' : 'palettes';
}

function hasSameChords(before: readonly FormChord[], after: readonly FormChord[]): boolean {
  return (
    before.length === after.length &&
    before.every(
      ({ beats, symbol }, index) =>
        beats === after[index]?.beats && isSameChord(symbol, after[index]?.symbol ?? null),
    )
  );
}

function soundsSame(before: readonly FormChord[], after: readonly FormChord[]): boolean {
  return (
    hasSameChords(before, after) &&
    before.every(({ chosen }, index) => {
      const other = after[index]?.chosen ?? null;
      if (chosen === null || other === null) return chosen === other;
      return isSamePalette(chosen.palette, other.palette);
    })
  );
}
