/** A chart as a page for the terminal: its bars in rows of four, and under each section a palette for every chord. */

import {
  beatsPerBar,
  type Chart,
  type Form,
  type FormBar,
  type FormChord,
  formatBeats,
  formatMeter,
  isSameMeter,
  NO_CHORD,
  planNames,
} from '../../core/chart/index.ts';
import { formatKey } from '../../core/theory/index.ts';
import type { Paint } from './paint.ts';

const BARS_PER_ROW = 4;

/** The whole page, with a line end after the last line. `form` is one plan of `chart`, unrolled. */
export function chartPage(chart: Chart, form: Form, colours: Paint): string {
  const parts = [
    pageHead(chart, form, colours),
    ...inSections(form).map((bars) => sectionPart(bars, form, colours)),
  ];
  return `${parts.join('\n\n')}\n`;
}

function pageHead(chart: Chart, form: Form, colours: Paint): string {
  const facts = [
    `key ${formatKey(chart.key)}`,
    `meter ${formatMeter(chart.meter)}`,
    ...(chart.tempoBpm === null ? [] : [`tempo ${chart.tempoBpm}`]),
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

/** Runs of bars of one section as written; a section played twice makes two runs when another lies between. */
function inSections(form: Form): readonly (readonly FormBar[])[] {
  const runs: FormBar[][] = [];
  for (const bar of form.bars) {
    const run = runs.at(-1);
    if (run !== undefined && run[0]?.section === bar.section) run.push(bar);
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
  const width = Math.max(...cells.map((cell) => cell.length));
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

/** One line for each chord: place, symbol, palette, tones, whether it was given or chosen, and why. */
function chordRows(bars: readonly FormBar[], colours: Paint): readonly string[] {
  const rows = bars.flatMap((bar) => bar.chords.map((chord) => chordCells(bar, chord)));
  const widths = [0, 1, 2, 3, 4].map((column) =>
    Math.max(...rows.map((row) => row[column]?.length ?? 0)),
  );
  return rows.map((row) => {
    const [place = '', symbol = '', palette = '', tones = '', source = '', reason = ''] = row.map(
      (cell, column) => cell.padEnd(widths[column] ?? 0),
    );
    const parts = [colours.dim(place), colours.bold(symbol), colours.cyan(palette), tones, source];
    return `  ${parts.join('  ')}  ${colours.dim(reason)}`.trimEnd();
  });
}

function chordCells(bar: FormBar, chord: FormChord): readonly string[] {
  const place = `${bar.bar}.${chord.beat}`.padStart(5);
  if (chord.symbol === null)
    return [place, NO_CHORD, 'any note', '', '', 'no chord: nothing is outside'];
  if (chord.chosen === null) return [place, chord.symbol.text, 'none', '', '', ''];
  const { palette, given, reason } = chord.chosen;
  const falling = palette.falling === null ? '' : ` / falling ${palette.falling.notes.join(' ')}`;
  return [
    place,
    chord.symbol.text,
    `${palette.root} ${palette.name}`,
    palette.notes.join(' ') + falling,
    given ? 'given' : 'chosen',
    reason,
  ];
}
