/** A chart as a page for the terminal: its bars in rows of four, and under each section a palette for every chord. */

import {
  beatsPerBar,
  type Chart,
  describePickup,
  type Form,
  type FormBar,
  type FormChord,
  formatBeats,
  formatMeter,
  isSameMeter,
  NO_CHORD,
  PICKUP_BAR,
  planNames,
} from '../../core/chart/index.ts';
import { setNames } from '../../core/set-names/index.ts';
import { formatKey, NOTES_NAME, type Palette, paletteName } from '../../core/theory/index.ts';
import type { Paint } from './paint.ts';

const BARS_PER_ROW = 4;

/** The whole page, with a line end after the last line. `form` is one plan of `chart`, unrolled. */
export function chartPage(chart: Chart, form: Form, colours: Paint): string {
  const parts = [
    pageHead(chart, form, colours),
    ...pickupPart(form, colours),
    ...inSections(form).map((bars) => sectionPart(bars, form, colours)),
  ];
  return `${parts.join('\n\n')}\n`;
}

function pageHead(chart: Chart, form: Form, colours: Paint): string {
  const facts = [
    `key ${formatKey(chart.key)}`,
    `meter ${formatMeter(chart.meter)}`,
    ...(chart.tempoBpm === null ? [] : [`tempo ${chart.tempoBpm}`]),
    ...(form.pickup === null ? [] : [`pickup ${describePickup(form.pickup)}`]),
    `${form.bars.length} ${form.bars.length === 1 ? 'bar' : 'bars'}`,
    `plan ${form.plan}`,
  ];
  const others = planNames(chart).filter((name) => name !== form.plan);
  const lines = [
    colours.bold(chart.title),
    facts.join(' · '),
    ...(others.length === 0 ? [] : [`other plans: ${others.join(', ')}`]),
    ...chart.headers.map(({ name, value }) => `${name}: ${value}`),
  ];
  return lines.join('\n');
}

/** The short bar before bar 1, when chords of its own stand in it. */
function pickupPart({ pickup }: Form, colours: Paint): readonly string[] {
  if (pickup === null || pickup.chords.length === 0) return [];
  const { meter, chords } = pickup;
  const bar = { bar: PICKUP_BAR, section: null, beginsSection: false, meter, chords };
  const row = `${barNumber(bar)} | ${barText(bar, pickup.meter)} |`;
  return [[colours.bold('pickup'), row, '', ...chordRows([bar], colours)].join('\n')];
}

/** Runs of bars of one section as written; a section played twice makes two runs when another lies between. */
function inSections(form: Form): readonly (readonly FormBar[])[] {
  const runs: FormBar[][] = [];
  for (const bar of form.bars) {
    const run = runs.at(-1);
    if (run !== undefined && !bar.beginsSection) run.push(bar);
    else runs.push([bar]);
  }
  return runs;
}

function sectionPart(bars: readonly FormBar[], form: Form, colours: Paint): string {
  const name = bars[0]?.section ?? null;
  const head = name === null ? [] : [colours.bold(`[${name}]`)];
  return [...head, ...barRows(bars, form), '', ...chordRows(bars, colours)].join('\n');
}

/** `  5 | Cm7  | F7   |`: the row's first bar number, then its bars, of equal width in a section. */
function barRows(bars: readonly FormBar[], form: Form): readonly string[] {
  const cells = bars.map((bar) => barText(bar, meterBefore(bar, form)));
  const width = widest(cells);
  const rows: string[] = [];
  for (let start = 0; start < cells.length; start += BARS_PER_ROW) {
    const row = cells.slice(start, start + BARS_PER_ROW).map((cell) => cell.padEnd(width));
    rows.push(`${barNumber(bars[start])} | ${row.join(' | ')} |`);
  }
  return rows;
}

function meterBefore(bar: FormBar, form: Form): FormBar['meter'] {
  return form.bars[bar.bar - 2]?.meter ?? form.meter;
}

function barText(bar: FormBar, before: FormBar['meter']): string {
  const words = bar.chords.map(({ symbol, beats }) => ({ text: symbol?.text ?? NO_CHORD, beats }));
  const meter = isSameMeter(bar.meter, before) ? '' : `(${formatMeter(bar.meter)}) `;
  return meter + formatBeats(words, beatsPerBar(bar.meter));
}

function barNumber(bar: FormBar | undefined): string {
  return String(bar?.bar ?? '').padStart(5);
}

/** Place, symbol, palette, tones, whether it was given or chosen, and why. */
type ChordRow = readonly [string, string, string, string, string, string];

/** One line for each chord, and one more for the falling form of a two-way palette. */
function chordRows(bars: readonly FormBar[], colours: Paint): readonly string[] {
  const rows = bars.flatMap((bar) => bar.chords.flatMap((chord) => rowsOfChord(bar, chord)));
  const widths = [0, 1, 2, 3, 4].map((column) => widest(rows.map((row) => row[column] ?? '')));
  return rows.map((row) => {
    const cells = row.map((cell, column) => cell.padEnd(widths[column] ?? 0));
    const [place = '', symbol = '', palette = '', tones = '', source = '', reason = ''] = cells;
    const parts = [colours.dim(place), colours.bold(symbol), colours.cyan(palette), tones, source];
    return `  ${parts.join('  ')}  ${colours.dim(reason)}`.trimEnd();
  });
}

function rowsOfChord(bar: FormBar, { beat, symbol, chosen }: FormChord): readonly ChordRow[] {
  const place = `${bar.bar}.${beat}`.padStart(5);
  if (symbol === null) return [[place, NO_CHORD, '', 'any note', '', 'nothing is outside here']];
  if (chosen === null) return [[place, symbol.text, '', '', '', 'no palette']];
  const { palette, given, reason } = chosen;
  const name = paletteName(palette);
  const source = given ? 'given' : 'chosen';
  const why = palette.name === NOTES_NAME ? [reason, ...namesOf(palette)].join('; ') : reason;
  const rising: ChordRow = [place, symbol.text, name, palette.notes.join(' '), source, why];
  const { falling } = palette;
  return falling === null
    ? [rising]
    : [rising, ['', '', 'falling', falling.notes.join(' '), '', '']];
}

/** What a set of notes is called, in one clause, or nothing. */
function namesOf(palette: Palette): readonly string[] {
  const names = setNames(palette).map(({ text }) => text);
  return names.length === 0 ? [] : [`the notes of ${names.join(', ')}`];
}

function widest(texts: readonly string[]): number {
  return texts.reduce((width, text) => Math.max(width, text.length), 0);
}
