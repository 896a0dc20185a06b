/** What `chart --json` prints, schema `linekeeper.chart/1`, as `chart-text.md` lists it, and `pickup`. */

import type { TextProblem } from '../problem.ts';
import { chordPcs } from '../theory/index.ts';
import { formatKey } from '../theory/key.ts';
import type { Palette, PaletteTones } from '../theory/palette.ts';
import { formatTone } from '../theory/tone.ts';
import { formatMeter } from './meter.ts';
import type { Chart, ChosenPalette, Form, FormBar, FormChord } from './model.ts';
import { planNames } from './unroll.ts';

export const CHART_SCHEMA = 'linekeeper.chart/1';

/** How a bar or beat without a chord is written everywhere. */
export const NO_CHORD = 'N.C.';

export interface ChartJsonTones {
  readonly notes: readonly string[];
  readonly pcs: readonly number[];
}

export interface ChartJsonAlternative extends ChartJsonTones {
  readonly name: string;
  readonly root: string;
  /** Only for a two-way palette. */
  readonly falling?: ChartJsonTones;
  readonly reason: string;
}

export interface ChartJsonPalette extends ChartJsonAlternative {
  readonly given: boolean;
}

/** Under `N.C.`, `root`, `bass` and `palette` are null and the lists empty. */
export interface ChartJsonChord {
  readonly beat: number;
  readonly beats: number;
  readonly symbol: string;
  readonly root: string | null;
  readonly bass: string | null;
  readonly pcs: readonly number[];
  readonly palette: ChartJsonPalette | null;
  readonly alternatives: readonly ChartJsonAlternative[];
}

export interface ChartJsonBar {
  readonly bar: number;
  readonly section: string | null;
  readonly meter: string;
  readonly chords: readonly ChartJsonChord[];
}

export interface ChartJsonPickup {
  /** Beats of bar 1’s meter before it. */
  readonly beats: number;
  /** On the beats of a short bar that ends in the bar line; empty: the first chord of the form is in force. */
  readonly chords: readonly ChartJsonChord[];
}

export interface ChartJsonError {
  readonly line: number;
  readonly column: number;
  readonly read: string;
  readonly expected: string;
  readonly suggestion: string | null;
}

/** Of a chart with errors nothing but the errors is told: the rest is null or empty. */
export interface ChartJson {
  readonly schema: typeof CHART_SCHEMA;
  readonly title: string | null;
  readonly key: string | null;
  /** False when the chart names no key: then it is estimated from the chords. */
  readonly keyGiven: boolean | null;
  readonly meter: string | null;
  readonly tempo: number | null;
  /** Only for a chart with a pickup. */
  readonly pickup?: ChartJsonPickup;
  readonly plans: readonly string[];
  readonly bars: readonly ChartJsonBar[];
  readonly errors: readonly ChartJsonError[];
}

/** The chart in one of its plans, unrolled. `form` must come from `chart`. */
export function chartJson(chart: Chart, form: Form): ChartJson {
  return {
    schema: CHART_SCHEMA,
    title: chart.title,
    key: formatKey(chart.key),
    keyGiven: chart.keyGiven,
    meter: formatMeter(chart.meter),
    tempo: chart.tempoBpm,
    ...pickupJson(form),
    plans: planNames(chart),
    bars: form.bars.map(barJson),
    errors: [],
  };
}

function pickupJson({ pickup }: Form): Pick<ChartJson, 'pickup'> {
  if (pickup === null) return {};
  return { pickup: { beats: pickup.beats, chords: pickup.chords.map(chordJson) } };
}

/** A chart that could not be read, with every problem of it. */
export function chartErrorsJson(problems: readonly TextProblem[]): ChartJson {
  return {
    schema: CHART_SCHEMA,
    title: null,
    key: null,
    keyGiven: null,
    meter: null,
    tempo: null,
    plans: [],
    bars: [],
    errors: problems.map(({ line, column, read, expected, suggestion }) => ({
      line,
      column,
      read,
      expected,
      suggestion,
    })),
  };
}

function barJson({ bar, section, meter, chords }: FormBar): ChartJsonBar {
  return { bar, section, meter: formatMeter(meter), chords: chords.map(chordJson) };
}

function chordJson({ beat, beats, symbol, chosen, alternatives }: FormChord): ChartJsonChord {
  return {
    beat,
    beats,
    symbol: symbol?.text ?? NO_CHORD,
    root: symbol === null ? null : formatTone(symbol.root),
    bass: symbol === null || symbol.bass === null ? null : formatTone(symbol.bass),
    pcs: symbol === null ? [] : chordPcs(symbol),
    palette: chosen === null ? null : { ...choiceJson(chosen), given: chosen.given },
    alternatives: alternatives.map(choiceJson),
  };
}

function choiceJson({ palette, reason }: ChosenPalette): ChartJsonAlternative {
  return {
    name: palette.name,
    root: palette.root,
    ...tonesJson(palette),
    ...fallingJson(palette),
    reason,
  };
}

function fallingJson({ falling }: Palette): { readonly falling?: ChartJsonTones } {
  return falling === null ? {} : { falling: tonesJson(falling) };
}

function tonesJson({ notes, pcs }: PaletteTones): ChartJsonTones {
  return { notes, pcs };
}
