/** One chorus of one plan as it is played: repeats laid out, `%` resolved, a palette for every chord. */

import { nearestWordAnyCase } from '../nearest-word.ts';
import { failure, type Outcome, success, type TextProblem } from '../problem.ts';
import { choosePalettes } from '../theory/index.ts';
import type { Key } from '../theory/key.ts';
import { type Palette, paletteMask } from '../theory/palette.ts';
import { PLAIN } from '../words.ts';
import { ALONE, type ChordContext, chordContexts, chordContextsOnce } from './chord-context.ts';
import { eighthsPerBeat } from './meter.ts';
import type {
  AlternativePalette,
  BarContent,
  Chart,
  ChosenPalette,
  Form,
  FormBar,
  FormChord,
  FormPickup,
  GivenPalette,
  WrittenBar,
  WrittenChord,
  WrittenPickup,
} from './model.ts';
import { firstMeter, pickupMeter } from './pickup.ts';
import { playOrder } from './play-order.ts';
import { shorten } from './problems.ts';

export type UnrollProblem = TextProblem<'unknownPlan'>;

/** The names of a chart's plans, `plain` first. */
export function planNames(chart: Chart): readonly string[] {
  return [PLAIN, ...chart.plans.map((plan) => plan.name)];
}

/**
 * Unrolls one plan of a chart into the form of one chorus. Bars count from 1 through the unrolled form.
 * A palette the chart names is kept and marked `given`; the others are chosen from the chord, the key and the
 * nearest different chords before and after, around the form's end to its start, `N.C.` passed over.
 * Problem: `unknownPlan`, with the known names as `expected`; its place is line 1, column 1.
 */
export function unrollForm(chart: Chart, planName: string): Outcome<Form, UnrollProblem> {
  return layForm(chart, planName, playOrder);
}

/** The same of the bars as they are written, each once, whatever signs they carry. Bars count from 1 as written. */
export function writtenForm(chart: Chart, planName: string): Outcome<Form, UnrollProblem> {
  return layForm(chart, planName, (bars) => bars.map((_, index) => index));
}

type BarOrder = (bars: readonly WrittenBar[]) => readonly number[];

function layForm(chart: Chart, planName: string, orderOf: BarOrder): Outcome<Form, UnrollProblem> {
  const bars = laidBars(chart, planName, orderOf);
  if (bars === null) return failure(unknownPlan(chart, planName));
  const contexts = chordContexts(bars.flatMap(({ chords }) => chords.map(({ symbol }) => symbol)));
  const choose = chooser(chart.key);
  let index = 0;
  const formBars: FormBar[] = bars.map(({ section, beginsSection, meter, chords }, barIndex) => ({
    bar: barIndex + 1,
    section,
    beginsSection,
    meter,
    chords: chords.map((chord) => choose(chord, contexts[index++] ?? ALONE)),
  }));
  const { title, key, meter, tempoBpm } = chart;
  const pickup = chart.pickup === null ? null : playedPickup(chart.pickup, chart, formBars, choose);
  return success({
    ...{ title, key, plan: planName, meter, tempoBpm, pickup },
    ...{ bars: formBars, next: null },
  });
}

/** The bars of one chorus with what is written for each; null for a plan the chart does not have. */
export function laidBars(
  chart: Chart,
  planName: string,
  orderOf: BarOrder = playOrder,
): readonly LaidBar[] | null {
  const plan = chart.plans.find(({ name }) => name === planName);
  if (plan === undefined && planName !== PLAIN) return null;
  return layOut(chart, plan?.bars ?? [], orderOf);
}

/** The pickup leads into the first chord, from nowhere: what the form ends with has not been played yet. */
function playedPickup(
  { eighths, chords }: WrittenPickup,
  chart: Chart,
  bars: readonly FormBar[],
  choose: ReturnType<typeof chooser>,
): FormPickup {
  const meter = firstMeter(chart);
  const [first] = bars[0]?.chords ?? [];
  const contexts = chordContextsOnce([
    ...chords.map(({ symbol }) => symbol),
    first?.symbol ?? null,
  ]);
  return {
    beats: eighths / eighthsPerBeat(meter),
    meter: pickupMeter(eighths, meter),
    chords: chords.map((chord, index) => choose(chord, contexts[index] ?? ALONE)),
  };
}

/**
 * The bars of a form from one bar number to another, both included; numbers are kept, and the pickup before the first, and
 * the chord that comes after the last. Outside the form nothing is added; an empty range gives a form without bars.
 */
export function sliceForm(form: Form, fromBar: number, toBar: number): Form {
  const bars = form.bars.filter(({ bar }) => bar >= fromBar && bar <= toBar);
  const isFromStart = bars.length > 0 && bars[0] === form.bars[0];
  const [following] = form.bars.filter(({ bar }) => bar > toBar).flatMap(({ chords }) => chords);
  const next = following ?? form.next ?? form.bars[0]?.chords[0] ?? null;
  return { ...form, pickup: isFromStart ? form.pickup : null, bars, next };
}

/** More names than this are no help. */
const MOST_PLANS_TOLD = 20;

function unknownPlan(chart: Chart, planName: string): UnrollProblem {
  const names = planNames(chart);
  const shown = names.slice(0, MOST_PLANS_TOLD).map(shorten);
  return {
    code: 'unknownPlan',
    line: 1,
    column: 1,
    read: shorten(planName),
    expected:
      names.length === 1
        ? `the plan ${PLAIN}, the only one`
        : `one of the plans ${shown.join(', ')}${names.length > shown.length ? ' …' : ''}`,
    suggestion: nearestWordAnyCase(planName, names),
  };
}

export interface LaidBar {
  readonly section: string | null;
  readonly beginsSection: boolean;
  readonly meter: WrittenBar['meter'];
  readonly chords: readonly WrittenChord[];
}

/** The bars in their order, each with its own chords. */
function layOut(
  chart: Chart,
  planBars: readonly BarContent[],
  orderOf: BarOrder,
): readonly LaidBar[] {
  const written = chart.sections.flatMap((section) =>
    section.bars.map((bar) => ({ ...bar, section })),
  );
  let before: readonly WrittenChord[] = [];
  const laid = written.map((bar, index) => {
    if (bar.content.kind === 'chords') before = bar.content.chords;
    const own = planBars[index];
    const chords = own?.kind === 'chords' ? own.chords : before;
    return { section: bar.section, meter: bar.meter, chords };
  });
  const played = orderOf(written).flatMap((index) => laid[index] ?? []);
  return played.map(({ section, meter, chords }, index) => ({
    ...{ section: section.name, meter, chords },
    beginsSection: section !== played[index - 1]?.section,
  }));
}

/** Chooses palettes, remembering what was chosen for the same chord among the same others. */
function chooser(key: Key): (chord: WrittenChord, context: ChordContext) => FormChord {
  const ranked = new Map<string, readonly AlternativePalette[]>();
  return ({ beat, beats, symbol, given }, { before, after }) => {
    if (symbol === null) return { beat, beats, symbol, chosen: null, alternatives: [] };
    const memory = [before, [symbol], after]
      .map((symbols) => symbols.map(({ text }) => text).join(' '))
      .join(' | ');
    const choices =
      ranked.get(memory) ??
      choosePalettes({ symbol, key, before, after }).map((choice) => ({
        ...choice,
        given: false,
      }));
    ranked.set(memory, choices);
    const chosen = given === null ? ownChoice(choices) : givenChoice(given);
    const alternatives = choices.filter(
      (choice) => !(chosen && isSamePalette(choice.palette, chosen.palette)),
    );
    return { beat, beats, symbol, chosen, alternatives };
  };
}

function ownChoice([first]: readonly AlternativePalette[]): ChosenPalette | null {
  return first === undefined
    ? null
    : { palette: first.palette, reason: first.reason, given: first.given };
}

function givenChoice(given: GivenPalette): ChosenPalette {
  return { palette: given.palette, reason: 'named in the chart', given: true };
}

/** The same pitch classes on the same root; a two-way palette is another one. */
function isSamePalette(one: Palette, other: Palette): boolean {
  return (
    one.pcs[0] === other.pcs[0] &&
    (one.falling === null) === (other.falling === null) &&
    paletteMask(one) === paletteMask(other)
  );
}
