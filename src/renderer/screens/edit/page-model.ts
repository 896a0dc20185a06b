/** The bars of a chart's text as they are drawn and edited on the page. Pure. */

import {
  type BarText,
  barTexts,
  type Chart,
  type ChartProblem,
  type ChartReading,
  type FormBar,
  type FormChord,
  type FormPickup,
  offsetOfPlace,
  pickupText,
  playOrder,
  unrollForm,
} from '../../../core/chart/index.ts';
import { comparePlan, writtenBars } from '../../../core/plan/index.ts';
import { paletteName } from '../../../core/theory/index.ts';
import { PLAIN } from '../../../core/words.ts';

/** One written bar. */
export interface PageBar {
  /** Among the written bars, from 0. */
  readonly index: number;
  readonly section: string | null;
  /** As it stands in the text of the plan. */
  readonly content: BarText;
  /** Where it is first played, read with its palettes; null where it was not understood. */
  readonly form: FormBar | null;
  /** In a further plan: whether this bar is another than in `plain`. */
  readonly changed: boolean;
  readonly problem: ChartProblem | null;
}

/** The pickup of the page, whichever plan is shown. */
export interface PagePickup {
  /** What the header says, as typed; empty: the chart has none. */
  readonly text: string;
  /** As it is read; null while it cannot be, or there is none. */
  readonly read: FormPickup | null;
  readonly problem: ChartProblem | null;
}

/** Where the pickup stands among the bars, which count from 0: before the first. */
export const PICKUP_PLACE = -1;

/** Where the player stands on the page: a chord of a bar, both from 0, or the pickup. */
export interface PagePlace {
  readonly bar: number;
  readonly chord: number;
}

/** The bars of one plan as they were read: one that could not be has no form. A plan that the text does not have gives no bars. */
export function pageBars(reading: ChartReading, plan: string): readonly PageBar[] {
  const { tree, chart, problems, unread } = reading;
  const plans = barTexts(tree);
  const index = plans.findIndex(({ name }) => name === plan);
  const bars = plans[index]?.bars ?? [];
  const plainBars = plans[0]?.bars ?? [];
  const firstPlayed = chart === null ? new Map<number, FormBar>() : formBars(chart, plan);
  const offsets = problems.map((problem) => ({ problem, at: offsetOfPlace(tree, problem) }));
  const changedBars = chart === null ? new Set<number>() : changedIn(chart, plan);
  return bars.map((content, at) => ({
    index: at,
    section: plainBars[at]?.section ?? null,
    content,
    form: (unread[index]?.has(at) ?? true) ? null : (firstPlayed.get(at) ?? null),
    changed: changedBars.has(at),
    problem: offsets.find((one) => content.from <= one.at && one.at <= content.to)?.problem ?? null,
  }));
}

/** The pickup of a text, with what is read of it. */
export function pagePickup({ tree, problems }: ChartReading, read: FormPickup | null): PagePickup {
  const written = pickupText(tree);
  const problem = problems.find((one) => {
    const at = offsetOfPlace(tree, one);
    return written !== null && written.from <= at && at <= written.to;
  });
  return { text: written?.text ?? '', read, problem: problem ?? null };
}

interface ChordOnPage {
  /** Its place in the bar, from 0. */
  readonly chord: number;
  readonly text: string;
  readonly palette: string;
}

/** What stands on the buttons: the chords as read, or the words as typed while they cannot be. */
export function chordNames({ form, content }: PageBar): readonly ChordOnPage[] {
  if (form !== null && content.text !== '%') {
    return form.chords.map(({ symbol, chosen }, chord) => ({
      chord,
      text: symbol?.text ?? 'N.C.',
      palette: chosen === null ? '' : paletteName(chosen.palette),
    }));
  }
  const words = content.words.filter(({ kind, text }) => kind === 'word' && text !== '/');
  return words.length === 0
    ? [{ chord: 0, text: content.text || '–', palette: '' }]
    : words.map(({ text }, chord) => ({ chord, text, palette: '' }));
}

/** A place that is on the page: what stood there may have been taken out since. */
export function nearestPlace(bars: readonly PageBar[], place: PagePlace): PagePlace {
  if (place.bar === PICKUP_PLACE) return { bar: PICKUP_PLACE, chord: 0 };
  const bar = Math.max(0, Math.min(place.bar, bars.length - 1));
  const present = bars[bar];
  const chords = present === undefined ? 1 : chordNames(present).length;
  return { bar, chord: Math.min(place.chord, chords - 1) };
}

/** The chord chosen on the page and the one that is played before it; null where there is none. */
export function chordAt(
  bars: readonly PageBar[],
  { bar, chord }: PagePlace,
): { readonly chord: FormChord | null; readonly before: FormChord | null } {
  if (bar === PICKUP_PLACE) return { chord: null, before: null };
  const own = bars[bar]?.form?.chords ?? [];
  const earlier = bars.slice(0, bar).findLast(({ form }) => form !== null)?.form?.chords ?? [];
  return { chord: own[chord] ?? null, before: own[chord - 1] ?? earlier.at(-1) ?? null };
}

function formBars(chart: Chart, plan: string): ReadonlyMap<number, FormBar> {
  const written = writtenBars(chart);
  const form = unrollForm(chart, plan);
  const first = new Map<number, FormBar>();
  if (!form.ok) return first;
  playOrder(written).forEach((index, at) => {
    const bar = form.value.bars[at];
    if (bar !== undefined && !first.has(index)) first.set(index, bar);
  });
  return first;
}

/** Written bars, from 0, in which other chords or palettes are heard than in `plain`. */
function changedIn(chart: Chart, plan: string): ReadonlySet<number> {
  if (plan === PLAIN) return new Set();
  const compared = comparePlan(chart, plan);
  if (!compared.ok) return new Set();
  return new Set(compared.value.flatMap(({ bar, kind }) => (kind === 'names' ? [] : [bar])));
}
